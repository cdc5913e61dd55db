"""The store's one count of writes, by which a reader knows that what it remembers is stale."""

from __future__ import annotations

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise.store.damage import DamagedStoreError
from tubewise.store.tables import REVISION


def current(connection: Connection) -> int:
    """How often the store was written to. Raises DamagedStoreError where the count is lost."""
    number = connection.execute(sa.select(REVISION.c.number)).scalar()
    if number is None:
        raise _lost(connection)
    return int(number)


def advance(connection: Connection) -> None:
    """Count one write more. Raises DamagedStoreError where the count is lost."""
    counted = connection.execute(sa.update(REVISION).values(number=REVISION.c.number + 1))
    if counted.rowcount != 1:
        # Readers would go on showing what they remember.
        raise _lost(connection)


def _lost(connection: Connection) -> DamagedStoreError:
    return DamagedStoreError(
        "the row that counts its revisions is missing",
        where=connection.engine.url.render_as_string(hide_password=True),
    )
