"""Photographs of labels are kept with their tubes."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Make the table."""
    op.create_table(
        "pictures",
        sa.Column("pk", sa.Integer(), nullable=False),
        sa.Column("tube_id", sa.Text(), nullable=False),
        sa.Column("jpeg", sa.LargeBinary(), nullable=False),
        sa.Column("marks", sa.JSON(), nullable=False),
        sa.Column("added_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True)),
        sa.PrimaryKeyConstraint("pk", name="pk_pictures"),
    )
    op.create_index("ix_pictures_tube_id", "pictures", ["tube_id"])


def downgrade() -> None:
    """Drop it."""
    op.drop_index("ix_pictures_tube_id", "pictures")
    op.drop_table("pictures")
