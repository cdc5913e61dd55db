"""What SQLite itself finds wrong with a store's file."""

from __future__ import annotations

import re
import sqlite3
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from pathlib import Path

from tubewise.store.damage import first_line

_MOST_FAULTS = 100
_SHOWN_PAGES = 8
# As `PRAGMA integrity_check` words them.
_INDEX_ROW = re.compile(r"row \d+ missing from index (.+)")
_PAGE = re.compile(r"\bpage (\d+)\b", re.IGNORECASE)
_HEADER = b"SQLite format 3\0"
_BUSY_SECONDS = 15


@contextmanager
def plain_connection(path: Path) -> Iterator[sqlite3.Connection]:
    """SQLite alone on a file that is there already; none is made."""
    uri = f"{path.absolute().as_uri()}?mode=rw"
    with closing(
        sqlite3.connect(uri, uri=True, timeout=_BUSY_SECONDS, isolation_level=None)
    ) as connection:
        yield connection


def cut_short(path: Path) -> bool:
    """Whether the file ends amid a page, which SQLite would read on as zeros without a word.

    What the write-ahead log still holds is written into the file first: a process that was killed
    amid that leaves such an end too, and nothing is lost then.
    """
    if not _ends_amid_a_page(path):
        return False
    try:
        with plain_connection(path) as connection:
            connection.execute("PRAGMA wal_checkpoint(FULL)").fetchall()
    except sqlite3.Error:
        pass
    return _ends_amid_a_page(path)


def _ends_amid_a_page(path: Path) -> bool:
    try:
        with path.open("rb") as file:
            header = file.read(18)
        size = path.stat().st_size
    except OSError:
        return False
    if len(header) < 18 or not header.startswith(_HEADER):
        return False
    # 1 stands for 65536 (SQLite's file format, 1.3.2).
    page = int.from_bytes(header[16:18], "big")
    page = 65536 if page == 1 else page
    return page >= 512 and size % page != 0


def page_faults(path: Path, *, quick: bool = False) -> list[str]:
    """What is wrong with pages, indexes and references; `quick` leaves the indexes out."""
    found = ["the file ends amid a page: its end is cut off"] if cut_short(path) else []
    try:
        with plain_connection(path) as connection:
            check = "quick_check" if quick else "integrity_check"
            answers = [str(row[0]) for row in connection.execute(f"PRAGMA {check}({_MOST_FAULTS})")]
            found += _summed_up([line for words in answers for line in words.splitlines()])
            lost = {str(row[0]) for row in connection.execute("PRAGMA foreign_key_check")}
            found += [f"{table}: rows that belong to nothing" for table in sorted(lost)]
    except sqlite3.Error as error:
        found.append(first_line(error))
    return list(dict.fromkeys(found))


def _summed_up(lines: Sequence[str]) -> list[str]:
    """SQLite's many lines as few: one for all pages, one for each index."""
    pages: set[int] = set()
    indexes: Counter[str] = Counter()
    rest = []
    for line in lines:
        if line == "ok" or line.startswith("***"):
            continue
        if row := _INDEX_ROW.fullmatch(line):
            indexes[row[1]] += 1
        elif page := _PAGE.search(line):
            pages.add(int(page[1]))
        else:
            rest.append(line)
    found = []
    if pages:
        some = ", ".join(map(str, sorted(pages)[:_SHOWN_PAGES]))
        more = ", …" if len(pages) > _SHOWN_PAGES else ""
        count = "a page is" if len(pages) == 1 else f"{len(pages)} pages are"
        found.append(f"{count} damaged: {some}{more}")
    found += [f"index {name} lacks {count} rows or more" for name, count in indexes.items()]
    return found + rest[:_SHOWN_PAGES]
