"""Copies of a store that SQLite itself makes, whole even while others write."""

from __future__ import annotations

import datetime
import os
import shutil
import sqlite3
import tempfile
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from tubewise.errors import UserError
from tubewise.store.damage import DamagedStoreError, damage_of, first_line
from tubewise.store.pages import page_faults, plain_connection

# What SQLite keeps beside its file while it is in use.
BESIDE = ("-wal", "-shm")


@dataclass(frozen=True, slots=True)
class Backup:
    """A copy of a store: where it lies, when it was made (local time) and its size in bytes."""

    path: Path
    made: datetime.datetime
    size: int


def backup_folder(store: Path) -> Path:
    """Where a store's backups lie: beside it."""
    return store.with_name(f"{store.stem}-backups")


def backups_of(store: Path) -> list[Backup]:
    """The backups beside a store, newest first."""
    found = []
    for path in backup_folder(store).glob(f"*{store.suffix or '.sqlite3'}"):
        if path.name.startswith((".", "replaced-")):
            continue
        found.append(_backup_at(path))
    return sorted(found, key=lambda backup: (backup.made, backup.path.name), reverse=True)


def dated_place(store: Path, why: str) -> Path:
    """A name in the store's folder of backups that nothing has yet."""
    moment = datetime.datetime.now().strftime("%Y-%m-%d-%H%M%S")
    folder, ending = backup_folder(store), store.suffix or ".sqlite3"
    place = folder / f"{why}{moment}{ending}"
    count = 1
    while place.exists():
        count += 1
        place = folder / f"{why}{moment}-{count}{ending}"
    return place


def back_up(store: Path, place: Path | None = None) -> Backup:
    """Copy a store to `place`, by default into its folder of backups, while it stays in use.

    Raises DamagedStoreError where the store is damaged, UserError where there is none, where the
    place is taken or can't be written.
    """
    if not store.is_file():
        raise UserError("There is no store here to back up.", where=str(store))
    place = place or dated_place(store, "")
    if place.exists():
        raise UserError("There is a file of this name; give another.", where=str(place))
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(dir=place.parent, prefix=".backup-") as folder:
            copy = Path(folder) / place.name
            copy_pages(store, copy)
            faults = page_faults(copy)
            if faults:
                raise DamagedStoreError(faults[0], where=str(store), problems=faults[1:])
            shutil.copymode(store, copy)
            with copy.open("rb") as file:
                os.fsync(file.fileno())
            copy.rename(place)
    except sqlite3.Error as error:
        raise damage_of(error, str(store)) or UserError(
            f"The backup can't be made ({first_line(error)}).", where=str(place)
        ) from None
    except OSError as error:
        raise UserError(
            f"The backup can't be written ({error.strerror or error}); choose another place.",
            where=str(place),
        ) from None
    return _backup_at(place)


def _backup_at(place: Path) -> Backup:
    facts = place.stat()
    made = datetime.datetime.fromtimestamp(facts.st_mtime).replace(microsecond=0)
    return Backup(place, made, facts.st_size)


def copy_pages(source: Path, target: Path) -> None:
    """Copy a database as it stands at one moment into a file of its own. Raises sqlite3.Error."""
    with plain_connection(source) as old, closing(sqlite3.connect(target)) as new:
        old.backup(new)
        # One file, not one and its log.
        new.execute("PRAGMA journal_mode = DELETE")


def set_aside(store: Path) -> Path | None:
    """Copy a store as it is, damage and all; None where there is no store. Raises OSError."""
    if not store.is_file():
        return None
    place = dated_place(store, "replaced-")
    place.parent.mkdir(parents=True, exist_ok=True)
    if not page_faults(store, quick=True):
        copy_pages(store, place)
        return place
    for ending in ("", *BESIDE):
        old = store.with_name(store.name + ending)
        if old.exists():
            shutil.copy2(old, place.with_name(place.name + ending))
    return place
