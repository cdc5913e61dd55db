"""Stores damaged in ways that disks, copies and people bring about."""

from __future__ import annotations

import random
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

from tests.store.tubes_for_tests import tube
from tubewise.store.store import Store
from tubewise.tubes.tube import Box, Tube

PAGE = 4096
MANY: list[Tube] = [
    tube(f"Paint {n}", "PB29 PW6", maker=f"Maker {n % 7}", price=n / 10) for n in range(300)
]


def whole_store(path: Path) -> Path:
    """A store of some hundred pages, its log written into it."""
    with Store(path) as store:
        store.import_catalogue(MANY)
        store.import_boxes([Box("1", tuple(MANY[:5])), Box("2", ())])
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    return path


def cut(path: Path, count: int) -> None:
    """The last bytes are missing, as after a copy that was cut off."""
    path.write_bytes(path.read_bytes()[:-count])


def overwrite_pages(path: Path, share: float, seed: int) -> None:
    """Pages hold noise; the first stays."""
    rng = random.Random(seed)
    data = bytearray(path.read_bytes())
    pages = len(data) // PAGE
    for page in rng.sample(range(1, pages), max(1, int(share * pages))):
        data[page * PAGE : (page + 1) * PAGE] = rng.randbytes(PAGE)
    path.write_bytes(data)


def overwrite_start(path: Path) -> None:
    """Nothing says that it is a database any more."""
    path.write_bytes(b"x" * PAGE + path.read_bytes()[PAGE:])


def lose_revision(path: Path) -> None:
    """The one row that counts writes is gone."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("DELETE FROM revision")
        connection.commit()


def change_letters(path: Path) -> None:
    """A name holds other letters than were written."""
    data = path.read_bytes()
    assert b"Paint 123" in data
    path.write_bytes(data.replace(b"Paint 123", b"Faint 123"))


def break_documents(path: Path) -> None:
    """A row holds what can't be read as what it is."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE tubes SET extra = '{\"shelf' WHERE pk = 3")
        connection.commit()


# Each makes a whole store one that can't be used.
DAMAGES: dict[str, Callable[[Path], None]] = {
    "cut amid a page": lambda path: cut(path, 1000),
    "cut by a page": lambda path: cut(path, PAGE),
    "cut by half": lambda path: cut(path, path.stat().st_size // 2 // PAGE * PAGE),
    "most pages overwritten": lambda path: overwrite_pages(path, 0.9, 3),
    "start overwritten": overwrite_start,
    "revision lost": lose_revision,
    "a document broken": break_documents,
}
