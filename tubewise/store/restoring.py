"""A backup put in the store's place."""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
import time
from collections.abc import Sequence
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from tubewise.errors import UserError
from tubewise.store.backups import BESIDE, backups_of, copy_pages, set_aside
from tubewise.store.damage import first_line
from tubewise.store.database import known_versions, sqlite_url
from tubewise.store.health import examine
from tubewise.store.pages import page_faults, plain_connection


@dataclass(frozen=True, slots=True)
class Restored:
    """Which backup was put in place, and where what was there before is kept."""

    backup: Path
    replaced: Path | None


def restore(store: Path, backup: Path | None = None) -> Restored:
    """Put a backup, by default the newest that is whole, in the store's place.

    What was there is kept. Raises UserError where there is no backup, it is damaged or of a newer
    tubewise, the store is in use, or the place can't be written; then nothing has changed.
    """
    chosen = backup if backup is not None else _newest_whole(store)
    if not chosen.is_file():
        raise UserError("There is no such file; look at its name and folder.", where=str(chosen))
    if store.exists() and store.samefile(chosen):
        raise UserError("This is the store itself; name a backup.", where=str(chosen))
    try:
        store.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=store.parent, prefix=".restore-") as folder:
            fresh = Path(folder) / store.name
            _copy_of(chosen, fresh)
            _refuse_unfit(fresh, chosen)
            replaced = set_aside(store)
            _count_on(fresh, _revision_of(store))
            if not _written_into(store, fresh):
                _put_in_place(store, fresh)
    except sqlite3.Error as error:
        raise UserError(
            f"The backup can't be put in place ({first_line(error)}); end every tubewise that uses "
            "the store, and try again.",
            where=str(store),
        ) from None
    except OSError as error:
        raise UserError(
            f"The backup can't be put in place ({error.strerror or error}).", where=str(store)
        ) from None
    return Restored(chosen, replaced)


def _newest_whole(store: Path) -> Path:
    found = backups_of(store)
    for backup in found:
        if not page_faults(backup.path):
            return backup.path
    raise UserError(
        "There is no backup that is whole." if found else "There is no backup of this store yet.",
        where=str(store),
        problems=["name one: tubewise store restore FILE"],
    )


def _copy_of(backup: Path, fresh: Path) -> None:
    try:
        copy_pages(backup, fresh)
    except sqlite3.DatabaseError as error:
        raise _damaged(backup, first_line(error)) from None


def _damaged(backup: Path, reason: str, problems: Sequence[str] = ()) -> UserError:
    return UserError(
        f"This backup is damaged ({reason}); choose another.", where=str(backup), problems=problems
    )


def _refuse_unfit(fresh: Path, backup: Path) -> None:
    """Raise UserError where the copy of a backup holds no store of ours, or a damaged one."""
    health = examine(sqlite_url(fresh))
    # What can be made anew is no reason to go without the rest.
    faults = [fault for fault in health.faults if fault not in health.remade]
    if faults:
        raise _damaged(backup, faults[0], faults[1:])
    with plain_connection(fresh) as connection:
        version = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    if version is None or version[0] not in known_versions():
        raise UserError(
            "A newer tubewise has written this backup; bring this one up to date.",
            where=str(backup),
        )


def _revision_of(store: Path) -> int:
    """A count of writes that no reader can have seen of the store that is replaced."""
    try:
        with plain_connection(store) as connection:
            return int(connection.execute("SELECT number FROM revision").fetchone()[0]) + 1
    except (sqlite3.Error, TypeError):
        # It is lost with the store: the seconds since 1970 are more than anybody wrote.
        return int(time.time())


def _count_on(fresh: Path, number: int) -> None:
    with plain_connection(fresh) as connection:
        connection.execute("UPDATE revision SET number = max(number, ?)", (number,))


def _written_into(store: Path, fresh: Path) -> bool:
    """Whether SQLite could write the backup over the store, which others may have open."""
    if not store.is_file():
        return False
    try:
        with plain_connection(fresh) as new, plain_connection(store) as old:
            new.backup(old)
        return not page_faults(store, quick=True)
    except sqlite3.OperationalError:
        # In use, or no room: not the file's fault, and nothing to replace it for.
        raise
    except sqlite3.Error:
        return False


def _put_in_place(store: Path, fresh: Path) -> None:
    """Replace a file that SQLite can't write into: its log is of no use to the new one."""
    for ending in BESIDE:
        store.with_name(store.name + ending).unlink(missing_ok=True)
    if store.exists():
        shutil.copymode(store, fresh)
    with fresh.open("rb") as file:
        os.fsync(file.fileno())
    fresh.replace(store)
    with closing(sqlite3.connect(store)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
