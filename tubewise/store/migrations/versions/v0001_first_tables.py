"""First tables: tubes and their indexes, boxes, supply lists, measurements."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None


def _moment(name: str, *, nullable: bool = False) -> sa.Column[object]:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=nullable)


def _text(*names: str) -> list[sa.Column[str]]:
    return [sa.Column(name, sa.Text(), nullable=False) for name in names]


def upgrade() -> None:
    """Make them."""
    _make_tubes()
    _make_tube_indexes()
    _make_boxes()
    _make_supply_lists()
    _make_measurements()
    _make_revision()


def _make_tubes() -> None:
    op.create_table(
        "tubes",
        sa.Column("pk", sa.Integer(), nullable=False),
        *_text("id", "maker", "line", "grade", "medium", "name", "label"),
        sa.Column("size_ml", sa.Float()),
        sa.Column("price", sa.Float()),
        *_text("currency"),
        sa.Column("stock", sa.Integer()),
        sa.Column("swatch_L", sa.Float()),
        sa.Column("swatch_a", sa.Float()),
        sa.Column("swatch_b", sa.Float()),
        *_text("swatch_hex"),
        sa.Column("extra", sa.JSON(), nullable=False),
        *_text("maker_key"),
        sa.Column("digest", sa.String(32), nullable=False),
        _moment("added_at"),
        _moment("changed_at"),
        _moment("deleted_at", nullable=True),
        sa.PrimaryKeyConstraint("pk", name="pk_tubes"),
        sa.UniqueConstraint("id", name="uq_tubes_id"),
    )
    op.create_index("ix_tubes_maker_key", "tubes", ["maker_key", "deleted_at", "pk"])
    op.create_index("ix_tubes_medium", "tubes", ["medium", "deleted_at", "pk"])


def _make_tube_indexes() -> None:
    op.create_table(
        "tube_pigments",
        sa.Column("code", sa.String(16), nullable=False),
        sa.Column("tube_pk", sa.Integer(), nullable=False),
        *_text("form"),
        sa.Column("position", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("code", "tube_pk", "form", name="pk_tube_pigments"),
        sa.ForeignKeyConstraint(
            ["tube_pk"], ["tubes.pk"], name="fk_tube_pigments_tube_pk", ondelete="CASCADE"
        ),
        sqlite_with_rowid=False,
    )
    op.create_index("ix_tube_pigments_tube_pk", "tube_pigments", ["tube_pk"])
    op.create_table(
        "words",
        sa.Column("pk", sa.Integer(), nullable=False),
        *_text("word"),
        sa.PrimaryKeyConstraint("pk", name="pk_words"),
        sa.UniqueConstraint("word", name="uq_words_word"),
    )
    op.create_table(
        "tube_words",
        sa.Column("word_pk", sa.Integer(), nullable=False),
        sa.Column("tube_pk", sa.Integer(), nullable=False),
        sa.Column("among", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("word_pk", "tube_pk", name="pk_tube_words"),
        sa.ForeignKeyConstraint(["word_pk"], ["words.pk"], name="fk_tube_words_word_pk"),
        sa.ForeignKeyConstraint(
            ["tube_pk"], ["tubes.pk"], name="fk_tube_words_tube_pk", ondelete="CASCADE"
        ),
        sqlite_with_rowid=False,
    )
    op.create_index("ix_tube_words_tube_pk", "tube_words", ["tube_pk"])


def _make_boxes() -> None:
    op.create_table(
        "boxes",
        sa.Column("pk", sa.Integer(), nullable=False),
        *_text("name", "seat", "seat_key"),
        sa.Column("digest", sa.String(32), nullable=False),
        _moment("changed_at"),
        _moment("deleted_at", nullable=True),
        sa.PrimaryKeyConstraint("pk", name="pk_boxes"),
        sa.UniqueConstraint("name", "seat_key", name="uq_boxes_name_seat_key"),
    )
    op.create_table(
        "box_tubes",
        sa.Column("box_pk", sa.Integer(), nullable=False),
        sa.Column("position", sa.Integer(), nullable=False),
        *_text("tube_id"),
        sa.Column("row", sa.JSON(), nullable=False),
        sa.PrimaryKeyConstraint("box_pk", "position", name="pk_box_tubes"),
        sa.ForeignKeyConstraint(
            ["box_pk"], ["boxes.pk"], name="fk_box_tubes_box_pk", ondelete="CASCADE"
        ),
    )
    op.create_index("ix_box_tubes_tube_id", "box_tubes", ["tube_id"])


def _make_supply_lists() -> None:
    op.create_table(
        "supply_lists",
        sa.Column("pk", sa.Integer(), nullable=False),
        *_text("name"),
        sa.Column("slots", sa.JSON(), nullable=False),
        sa.Column("mixes", sa.JSON(), nullable=False),
        sa.Column("digest", sa.String(32), nullable=False),
        _moment("changed_at"),
        _moment("deleted_at", nullable=True),
        sa.PrimaryKeyConstraint("pk", name="pk_supply_lists"),
        sa.UniqueConstraint("name", name="uq_supply_lists_name"),
    )


def _make_measurements() -> None:
    op.create_table(
        "measurements",
        sa.Column("pk", sa.Integer(), nullable=False),
        *_text("tube_id"),
        sa.Column("version", sa.Integer(), nullable=False),
        sa.Column("measured_on", sa.Date()),
        *_text("instrument", "conditions"),
        sa.Column("raw", sa.JSON(), nullable=False),
        sa.Column("fit", sa.JSON(), nullable=False),
        _moment("added_at"),
        _moment("withdrawn_at", nullable=True),
        sa.PrimaryKeyConstraint("pk", name="pk_measurements"),
        sa.UniqueConstraint("tube_id", "version", name="uq_measurements_tube_id_version"),
    )


def _make_revision() -> None:
    revision_table = op.create_table(
        "revision",
        sa.Column("pk", sa.Integer(), nullable=False),
        sa.Column("number", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("pk", name="pk_revision"),
    )
    op.bulk_insert(revision_table, [{"pk": 1, "number": 0}])


def downgrade() -> None:
    """Drop them, the dependent ones first."""
    for name in (
        "revision",
        "measurements",
        "supply_lists",
        "box_tubes",
        "boxes",
        "tube_words",
        "words",
        "tube_pigments",
        "tubes",
    ):
        op.drop_table(name)
