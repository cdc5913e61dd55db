"""Which column of a shop's export is which, where somebody said so."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "chosen_columns",
        sa.Column("heading", sa.Text(), nullable=False),
        sa.Column("column", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("heading", name="pk_chosen_columns"),
    )


def downgrade() -> None:
    """Drop it."""
    op.drop_table("chosen_columns")
