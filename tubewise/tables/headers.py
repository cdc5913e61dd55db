"""The header of a table found among the first rows, and columns by their names."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeVar

from tubewise import limits
from tubewise.errors import UserError
from tubewise.tables.cells import Cell, letter, text_of
from tubewise.tables.grid import Grid, Row

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Table:
    """A sheet whose header row was found.

    `columns` maps our column names to positions, `others` the names we do not know. `problems` are
    faults of the table itself; rows that have one are left out of `rows`. `one_of_several` says
    that places name the file, since the reader gave more than one. `doubts` are the grid's.
    """

    file: str
    sheet: str
    header: Row
    columns: Mapping[str, int]
    others: Mapping[str, int]
    rows: tuple[Row, ...]
    problems: tuple[str, ...]
    one_of_several: bool = False
    doubts: tuple[str, ...] = ()

    def cell(self, row: Row, column: str) -> Cell:
        """The cell under our column name; empty where the row or the column ends earlier."""
        at = self.columns.get(column)
        return row.cells[at] if at is not None and at < len(row.cells) else ""

    def value(
        self,
        row: Row,
        column: str,
        read: Callable[[Cell], _T],
        blank: _T,
        problems: list[str],
    ) -> _T:
        """What `read` makes of a cell; `blank` for an empty one.

        Where `read` raises ValueError, its words join `problems` with the cell's place.
        """
        cell = self.cell(row, column)
        if cell == "":
            return blank
        try:
            return read(cell)
        except ValueError as error:
            problems.append(f"{self.place(row, column)}: {error}")
            return blank

    def extra(self, row: Row) -> dict[str, str]:
        """Unknown columns of the row that hold something."""
        found = {
            name: text_of(row.cells[at]) for name, at in self.others.items() if at < len(row.cells)
        }
        return {name: text for name, text in found.items() if text}

    def place(self, row: Row, column: str = "") -> str:
        """`row 5, column price`, with the sheet where a workbook has several."""
        words = [self.file] if self.one_of_several else []
        words += [f"sheet {self.sheet}"] if self.sheet else []
        words.append(f"row {row.number}")
        if column:
            words.append(f"column {column}")
        return ", ".join(words)


@lru_cache(maxsize=10_000)
def heading(text: str) -> str:
    """A header reduced to its letters and digits, so that `Size (mL)` meets `size_ml`."""
    bare = text.casefold()
    if not bare.isascii():
        bare = unicodedata.normalize("NFKD", bare)
        bare = "".join(c for c in bare if not unicodedata.combining(c))
    return re.sub(r"[\W_]+", " ", bare).strip()


def refuse(file: str, problems: Sequence[str], what: str) -> None:
    """Raise one UserError for all problems, if there are any."""
    if not problems:
        return
    shown = list(problems[: limits.MAX_PROBLEMS])
    if len(problems) > limits.MAX_PROBLEMS:
        shown.append(f"and {len(problems) - limits.MAX_PROBLEMS:,} more")
    count = "1 problem" if len(problems) == 1 else f"{len(problems):,} problems"
    raise UserError(f"{count} in {what}; nothing was read. Mend:", where=file, problems=shown)


def find_table(
    grid: Grid, names: Mapping[str, str], needed: Sequence[Sequence[str]]
) -> Table | None:
    """The table whose header stands in one of the first rows, or None.

    `names` maps headings (see `heading`) to our columns. Of each group in `needed`, one column
    must be there.
    """
    best: tuple[int, int] | None = None
    for at, row in enumerate(grid.rows[: limits.HEADER_WITHIN]):
        found = {names.get(heading(text_of(cell)), "") for cell in row.cells} - {""}
        if all(found.intersection(group) for group in needed) and (
            best is None or len(found) > best[0]
        ):
            best = (len(found), at)
    if best is None:
        return None
    header, rows = grid.rows[best[1]], grid.rows[best[1] + 1 :]
    width = max([len(header.cells), *(len(row.cells) for row in rows)])
    columns: dict[str, int] = {}
    others: dict[str, int] = {}
    problems: list[str] = []
    for at in range(width):
        text = text_of(header.cells[at]) if at < len(header.cells) else ""
        column = names.get(heading(text), "")
        if column and column in columns:
            problems.append(
                f"row {header.number}, column {letter(at)}: “{text}” names the column {column} a "
                f"second time, after column {letter(columns[column])}; remove or rename one"
            )
        elif column:
            columns[column] = at
        elif text:
            name, again = text, 2
            while name in others:
                name, again = f"{text} ({again})", again + 1
            others[name] = at
    whole: list[Row] = []
    for row in rows:
        for at, cell in enumerate(row.cells):
            if cell != "" and (at >= len(header.cells) or header.cells[at] == ""):
                problems.append(
                    f"row {row.number}, column {letter(at)}: “{text_of(cell)[:40]}” stands under "
                    "no header; name the column, or put quotes round a cell with a comma in it"
                )
                break
        else:
            whole.append(row)
    return Table(
        grid.file,
        grid.sheet,
        header,
        columns,
        others,
        tuple(whole),
        tuple(problems),
        doubts=grid.doubts,
    )
