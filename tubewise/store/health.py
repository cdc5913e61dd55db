"""Whether a store is whole: the file by SQLite's own check, each row by its fingerprint."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import sqlalchemy as sa
from sqlalchemy.engine import URL, Connection

from tubewise.errors import UserError
from tubewise.store.backups import Backup, backups_of
from tubewise.store.contents import content_faults
from tubewise.store.damage import DamagedStoreError, first_line
from tubewise.store.database import (
    HEAD,
    known_versions,
    open_as_it_is,
    sqlite_file,
    unusable,
    url_of,
    version_of,
)
from tubewise.store.pages import page_faults
from tubewise.store.tables import BOXES, MEASUREMENTS, PICTURES, SUPPLY_LISTS, TUBES

_COUNTED = {
    "tubes": TUBES,
    "boxes": BOXES,
    "supply lists": SUPPLY_LISTS,
    "measurements": MEASUREMENTS,
    "pictures": PICTURES,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Health:
    """What was found of a store: `faults` in words, empty where it is whole.

    `remade` are those of the faults that can be made anew from the rest. `counts` are rows by kind,
    deleted ones too, empty where they can't be read; `note` says what else is to know.
    """

    place: str
    faults: tuple[str, ...]
    remade: tuple[str, ...]
    counts: dict[str, int]
    backups: tuple[Backup, ...]
    note: str = ""


def examine(text: str) -> Health:
    """Look through the store at a database URL; changes nothing. Raises UserError without one."""
    url = url_of(text)
    path = sqlite_file(url)
    if path is not None and not path.is_file():
        raise UserError("There is no store here yet.", where=str(path))
    faults = page_faults(path) if path is not None else []
    remade: list[str] = []
    counts: dict[str, int] = {}
    note = ""
    try:
        with connected(url) as connection:
            version = version_of(connection)
            if version == HEAD:
                found = content_faults(connection)
                faults += [fault.words for fault in found]
                remade = [fault.words for fault in found if fault.remade]
                counts = _counts(connection)
            else:
                note, fault = _of_another_version(version)
                faults += [fault] if fault else []
    except sa.exc.DBAPIError as error:
        if path is None:
            raise unusable(error, url.render_as_string(hide_password=True)) from None
        faults.append(first_line(error.orig))
    if url.get_backend_name() == "postgresql" and not note:
        note = "Pages are PostgreSQL's own to check (amcheck, data checksums); rows were checked."
    return Health(
        place=url.render_as_string(hide_password=True),
        faults=tuple(dict.fromkeys(faults)),
        remade=tuple(remade),
        counts=counts,
        backups=tuple(backups_of(path)) if path is not None else (),
        note=note,
    )


@contextmanager
def connected(url: URL, *, writes: bool = False) -> Iterator[Connection]:
    """A connection to a store as it is, brought up to date by nobody."""
    engine = open_as_it_is(url)
    try:
        with engine.execution_options(writes=writes).begin() as connection:
            yield connection
    finally:
        engine.dispose()


def _of_another_version(version: str | None) -> tuple[str, str]:
    """A note and, where that is one, a fault."""
    if version is None:
        return "", "it holds no tables of ours"
    if version in known_versions():
        return "An older tubewise made it; it is brought up to date when it is next used.", ""
    return "A newer tubewise has written it; rows were not checked.", ""


def _counts(connection: Connection) -> dict[str, int]:
    counts = {}
    for name, table in _COUNTED.items():
        try:
            query = sa.select(sa.func.count()).select_from(table)
            counts[name] = int(connection.execute(query).scalar_one())
        except sa.exc.DBAPIError:
            # Its table is damaged; the faults say so.
            continue
    return counts


def refuse_damaged(text: str) -> None:
    """Raise DamagedStoreError where SQLite finds damaged pages; quicker than `examine`."""
    url = url_of(text)
    path = sqlite_file(url)
    faults = page_faults(path, quick=True) if path is not None and path.is_file() else []
    if faults:
        where = url.render_as_string(hide_password=True)
        raise DamagedStoreError(faults[0], where=where, problems=faults[1:])
