"""What makes tubes findable: an index of their pigments and an index of their words."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise import labels
from tubewise.store import search
from tubewise.store.chunks import ASKED_AT_ONCE, chunks
from tubewise.store.tables import TUBE_PIGMENTS, TUBE_WORDS, WORDS
from tubewise.tubes.tube import Tube


def unindex(connection: Connection, pks: Sequence[int]) -> None:
    """Take tubes out of every search."""
    for chunk in chunks(pks, ASKED_AT_ONCE):
        connection.execute(sa.delete(TUBE_PIGMENTS).where(TUBE_PIGMENTS.c.tube_pk.in_(chunk)))
        connection.execute(sa.delete(TUBE_WORDS).where(TUBE_WORDS.c.tube_pk.in_(chunk)))


def index(connection: Connection, tubes: Sequence[tuple[int, Tube]], words: dict[str, int]) -> None:
    """Make the living tubes findable by pigment and word; new words are added to `words`."""
    spelt = {pk: search.words_of(tube.maker, tube.line, tube.name) for pk, tube in tubes}
    unknown = sorted({word for found in spelt.values() for word in found} - words.keys())
    if unknown:
        pks = connection.execute(
            sa.insert(WORDS).returning(WORDS.c.pk, sort_by_parameter_order=True),
            [{"word": word} for word in unknown],
        ).scalars()
        words.update(zip(unknown, pks, strict=True))
    postings: list[tuple[Any, ...]] = sorted(
        (words[word], pk, len(found)) for pk, found in spelt.items() for word in found
    )
    _insert_plain(connection, TUBE_WORDS, ("word_pk", "tube_pk", "among"), postings)
    pigments: dict[tuple[str, int, str], int] = {}
    for pk, tube in tubes:
        # Not `tube.reading`, which would keep every reading of a long catalogue in memory.
        reading = labels.read(tube.label, name=tube.name)
        for position, declared in enumerate(reading.pigments):
            pigments.setdefault((declared.code, pk, declared.form), position)
    _insert_plain(
        connection,
        TUBE_PIGMENTS,
        ("code", "tube_pk", "form", "position"),
        sorted((*key, position) for key, position in pigments.items()),
    )


def _insert_plain(
    connection: Connection, table: sa.Table, columns: Sequence[str], rows: list[tuple[Any, ...]]
) -> None:
    """Insert rows of plain values, without the cost of typed parameters: they are many."""
    if not rows:
        return
    mark = "?" if connection.dialect.paramstyle == "qmark" else "%s"
    marks = ", ".join(mark for _ in columns)
    connection.exec_driver_sql(
        # The names are those of our own tables; what is stored goes beside.
        f"INSERT INTO {table.name} ({', '.join(columns)}) VALUES ({marks})",  # nosec B608
        rows,
    )
