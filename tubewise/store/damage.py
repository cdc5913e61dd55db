"""A damaged store, told so that the person can mend it."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence

from tubewise.errors import UserError

# A file that is no database at all, and one whose pages contradict each other.
_NO_DATABASE = sqlite3.SQLITE_NOTADB
_CORRUPT = sqlite3.SQLITE_CORRUPT
_PRIMARY_CODE = 0xFF


class DamagedStoreError(UserError):
    """The store can't be read as it was written. Nothing was changed."""

    def __init__(self, reason: str, *, where: str, problems: Sequence[str] = ()) -> None:
        super().__init__(
            f"The store is damaged ({reason}). Nothing was changed. `tubewise store check` says "
            "what is wrong; `tubewise store mend` makes anew what can be made from the rest; "
            "`tubewise store restore` puts the newest backup in its place.",
            where=where,
            problems=problems,
        )


class NoStoreError(DamagedStoreError):
    """The file does not begin as a database does."""

    def __init__(self, *, where: str) -> None:
        UserError.__init__(
            self,
            "This is no store of ours, or its first page is damaged. Nothing was changed. If it "
            "was a store, `tubewise store restore` puts the newest backup in its place; else name "
            "another file in TUBEWISE_DB.",
            where=where,
        )


def damage_of(error: BaseException | None, where: str) -> DamagedStoreError | None:
    """What SQLite's own error says of damage; None where it is about something else."""
    code = getattr(error, "sqlite_errorcode", 0) & _PRIMARY_CODE
    if code == _NO_DATABASE:
        return NoStoreError(where=where)
    if code == _CORRUPT:
        return DamagedStoreError(first_line(error), where=where)
    return None


def first_line(error: BaseException | None) -> str:
    """The first line of an error's words."""
    return next(iter(str(error).strip().splitlines()), "no reason given")
