"""The tables of the store.

`tubes` holds products; `tube_pigments`, `words` and `tube_words` are indexes made from them, which
hold living tubes only and can be made anew at any time. Nothing a person entered is overwritten by
a deletion: `deleted_at` and `withdrawn_at` are set, and unset to undo.
"""

from __future__ import annotations

from sqlalchemy import (
    JSON,
    Column,
    Date,
    DateTime,
    Float,
    ForeignKey,
    Index,
    Integer,
    LargeBinary,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

METADATA = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_N_name)s",
        "uq": "uq_%(table_name)s_%(column_0_N_name)s",
        "fk": "fk_%(table_name)s_%(column_0_N_name)s",
        "pk": "pk_%(table_name)s",
    }
)

TUBES = Table(
    "tubes",
    METADATA,
    Column("pk", Integer, primary_key=True),
    Column("id", Text, nullable=False, unique=True),
    Column("maker", Text, nullable=False),
    Column("line", Text, nullable=False),
    Column("grade", Text, nullable=False),
    Column("medium", Text, nullable=False),
    Column("name", Text, nullable=False),
    Column("label", Text, nullable=False),
    Column("size_ml", Float),
    Column("price", Float),
    Column("currency", Text, nullable=False),
    Column("stock", Integer),
    Column("swatch_L", Float),
    Column("swatch_a", Float),
    Column("swatch_b", Float),
    Column("swatch_hex", Text, nullable=False),
    # "excluded", "included" or, where nothing is said, empty.
    Column("swatch_geometry", Text, nullable=False, server_default=""),
    Column("extra", JSON, nullable=False),
    # The maker's name folded as in an id, so that case and accents don't matter.
    Column("maker_key", Text, nullable=False),
    # Of all that a file can say of the tube, so that an unchanged row is known at once.
    Column("digest", String(32), nullable=False),
    Column("added_at", DateTime(timezone=True), nullable=False),
    Column("changed_at", DateTime(timezone=True), nullable=False),
    Column("deleted_at", DateTime(timezone=True)),
    Index("ix_tubes_maker_key", "maker_key", "deleted_at", "pk"),
    Index("ix_tubes_medium", "medium", "deleted_at", "pk"),
)

TUBE_PIGMENTS = Table(
    "tube_pigments",
    METADATA,
    Column("code", String(16), primary_key=True),
    Column("tube_pk", Integer, ForeignKey("tubes.pk", ondelete="CASCADE"), primary_key=True),
    Column("form", Text, primary_key=True),
    Column("position", Integer, nullable=False),
    Index("ix_tube_pigments_tube_pk", "tube_pk"),
    sqlite_with_rowid=False,
)

WORDS = Table(
    "words",
    METADATA,
    Column("pk", Integer, primary_key=True),
    Column("word", Text, nullable=False, unique=True),
)

TUBE_WORDS = Table(
    "tube_words",
    METADATA,
    Column("word_pk", Integer, ForeignKey("words.pk"), primary_key=True),
    Column("tube_pk", Integer, ForeignKey("tubes.pk", ondelete="CASCADE"), primary_key=True),
    # How many words the tube has in all: a short name that holds a word is the better match.
    Column("among", Integer, nullable=False),
    Index("ix_tube_words_tube_pk", "tube_pk"),
    sqlite_with_rowid=False,
)

BOXES = Table(
    "boxes",
    METADATA,
    Column("pk", Integer, primary_key=True),
    # Which set of boxes: a class, a studio, a shop. Empty for the only one.
    Column("name", Text, nullable=False),
    Column("seat", Text, nullable=False),
    Column("seat_key", Text, nullable=False),
    Column("digest", String(32), nullable=False),
    Column("changed_at", DateTime(timezone=True), nullable=False),
    Column("deleted_at", DateTime(timezone=True)),
    UniqueConstraint("name", "seat_key"),
)

# A box keeps its rows as their owner wrote them; they meet the catalogue when they are read.
BOX_TUBES = Table(
    "box_tubes",
    METADATA,
    Column("box_pk", Integer, ForeignKey("boxes.pk", ondelete="CASCADE"), primary_key=True),
    Column("position", Integer, primary_key=True),
    Column("tube_id", Text, nullable=False),
    Column("row", JSON, nullable=False),
    Index("ix_box_tubes_tube_id", "tube_id"),
)

SUPPLY_LISTS = Table(
    "supply_lists",
    METADATA,
    Column("pk", Integer, primary_key=True),
    Column("name", Text, nullable=False, unique=True),
    Column("slots", JSON, nullable=False),
    Column("mixes", JSON, nullable=False),
    Column("digest", String(32), nullable=False),
    Column("changed_at", DateTime(timezone=True), nullable=False),
    Column("deleted_at", DateTime(timezone=True)),
)

MEASUREMENTS = Table(
    "measurements",
    METADATA,
    Column("pk", Integer, primary_key=True),
    # No foreign key: paint is measured that no catalogue lists.
    Column("tube_id", Text, nullable=False),
    Column("version", Integer, nullable=False),
    Column("measured_on", Date),
    Column("instrument", Text, nullable=False),
    Column("conditions", Text, nullable=False),
    Column("raw", JSON, nullable=False),
    Column("fit", JSON, nullable=False),
    Column("added_at", DateTime(timezone=True), nullable=False),
    Column("withdrawn_at", DateTime(timezone=True)),
    UniqueConstraint("tube_id", "version"),
)

# Photographs of labels. No foreign key: tubes of boxes are kept that no catalogue lists.
PICTURES = Table(
    "pictures",
    METADATA,
    Column("pk", Integer, primary_key=True),
    Column("tube_id", Text, nullable=False),
    Column("jpeg", LargeBinary, nullable=False),
    # What was read where on the picture.
    Column("marks", JSON, nullable=False),
    Column("added_at", DateTime(timezone=True), nullable=False),
    Column("withdrawn_at", DateTime(timezone=True)),
    Index("ix_pictures_tube_id", "tube_id"),
)

# What stands in for each tube, made from the rest. No foreign key: it may outlive its tube for a
# run.
STANDINS = Table(
    "standins",
    METADATA,
    Column("tube_id", Text, primary_key=True),
    Column("medium", Text, nullable=False),
    Column("digest", String(32), nullable=False),
    Column("basis", Text, nullable=False),
    Column("points", JSON, nullable=False),
    # Null where there was nothing farther to be looked at.
    Column("radius", Float),
    Column("lines", JSON, nullable=False),
)

# What somebody said of a shop's columns, by heading, so that the next export is read alike.
CHOSEN_COLUMNS = Table(
    "chosen_columns",
    METADATA,
    Column("heading", Text, primary_key=True),
    Column("column", Text, nullable=False),
)

# One row: counts writes, so that a reader knows when what it remembers is stale.
REVISION = Table(
    "revision",
    METADATA,
    Column("pk", Integer, primary_key=True),
    Column("number", Integer, nullable=False),
)
