"""Which column of a shop's export is which, where somebody said so."""

from __future__ import annotations

from collections.abc import Mapping

import sqlalchemy as sa
from sqlalchemy.engine import Connection

from tubewise.store.tables import CHOSEN_COLUMNS


def chosen(connection: Connection) -> dict[str, str]:
    """Our columns by heading, as they were chosen."""
    rows = connection.execute(sa.select(CHOSEN_COLUMNS)).all()
    return {row.heading: row.column for row in rows}


def choose(connection: Connection, columns: Mapping[str, str]) -> None:
    """Keep what is said of headings, before what was said of the same ones."""
    headings = CHOSEN_COLUMNS.c.heading.in_(list(columns))
    connection.execute(sa.delete(CHOSEN_COLUMNS).where(headings))
    rows = [{"heading": heading, "column": column} for heading, column in columns.items()]
    connection.execute(sa.insert(CHOSEN_COLUMNS), rows)
