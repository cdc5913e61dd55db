"""Swatches say whether the mirror reflection was included when they were read."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    """Add the column; of what is stored nobody said."""
    op.add_column(
        "tubes", sa.Column("swatch_geometry", sa.Text(), nullable=False, server_default="")
    )


def downgrade() -> None:
    """Drop it."""
    op.drop_column("tubes", "swatch_geometry")
