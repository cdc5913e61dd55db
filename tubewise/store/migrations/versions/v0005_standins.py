"""What stands in for each tube is kept from run to run."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "standins",
        sa.Column("tube_id", sa.Text(), nullable=False),
        sa.Column("medium", sa.Text(), nullable=False),
        sa.Column("digest", sa.String(32), nullable=False),
        sa.Column("basis", sa.Text(), nullable=False),
        sa.Column("points", sa.JSON(), nullable=False),
        sa.Column("radius", sa.Float()),
        sa.Column("lines", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("tube_id", name="pk_standins"),
    )


def downgrade() -> None:
    """Drop it."""
    op.drop_table("standins")
