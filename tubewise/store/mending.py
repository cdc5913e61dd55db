"""What can be made anew in a damaged store from the rest: indexes, and the count of writes."""

from __future__ import annotations

import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise.store.backups import set_aside
from tubewise.store.chunks import chunks
from tubewise.store.damage import DamagedStoreError
from tubewise.store.database import HEAD, explained, sqlite_file, url_of, version_of
from tubewise.store.health import Health, connected, examine
from tubewise.store.rows import TUBE_COLUMNS, tube_of_row
from tubewise.store.tables import REVISION, TUBE_PIGMENTS, TUBE_WORDS, TUBES, WORDS
from tubewise.store.tube_index import index

_CHUNK = 2_000


@dataclass(frozen=True, slots=True)
class Mended:
    """How the store is afterwards, and where a copy of what was before lies (SQLite only)."""

    health: Health
    replaced: Path | None


def mend(text: str) -> Mended:
    """Make indexes and the count of writes anew; nothing that a person entered is touched.

    A store that is whole is left alone. Raises UserError where the store can't be opened at all.
    """
    health = examine(text)
    url = url_of(text)
    if not health.faults:
        return Mended(health, None)
    path = sqlite_file(url)
    replaced = set_aside(path) if path is not None else None
    # Where the rest is damaged too, nothing is written, and the second look says what is left.
    with suppress(DamagedStoreError), explained(url), connected(url, writes=True) as connection:
        if version_of(connection) == HEAD:
            if connection.dialect.name == "sqlite":
                connection.exec_driver_sql("REINDEX")
            _index_anew(connection)
            _count_anew(connection)
    return Mended(examine(text), replaced)


def _index_anew(connection: Connection) -> None:
    for table in (TUBE_PIGMENTS, TUBE_WORDS, WORDS):
        connection.execute(sa.delete(table))
    rows = connection.execute(
        sa.select(TUBES.c.pk, *TUBE_COLUMNS).where(TUBES.c.deleted_at.is_(None))
    ).mappings()
    tubes = [(row["pk"], tube_of_row(dict(row))) for row in rows]
    words: dict[str, int] = {}
    for chunk in chunks(tubes, _CHUNK):
        index(connection, chunk, words)


def _count_anew(connection: Connection) -> None:
    """A count that no reader has seen: one on, or the seconds since 1970 where it is lost."""
    if connection.execute(sa.update(REVISION).values(number=REVISION.c.number + 1)).rowcount != 1:
        connection.execute(sa.delete(REVISION))
        connection.execute(sa.insert(REVISION).values(number=int(time.time())))
