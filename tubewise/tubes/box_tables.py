"""The tables of a file of boxes, in the shapes in which people and forms write them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path

from tubewise.errors import UserError
from tubewise.tables.cells import text_of
from tubewise.tables.grid import Grid
from tubewise.tables.headers import Table, find_table, heading
from tubewise.tables.spreadsheet import read_grids
from tubewise.tubes.cell_of_tubes import TUBES
from tubewise.tubes.column_guess import guessed_columns
from tubewise.tubes.columns import COLUMNS

_OWN = ("name", "label")
_WHOLE = (("seat", "name"), (*_OWN, TUBES))


def box_tables(path: str | Path, names: Mapping[str, str]) -> list[Table]:
    """The sheets that say whose tubes they are; `names` maps headings to our columns.

    Where a person's tubes stand in one cell, the name is the person's. Where no heading says which
    column holds the tubes, what stands in it does. Raises UserError where no sheet is of boxes.
    """
    grids = [_with_headings(grid, names) for grid in read_grids(path, frozenset(names))]
    found = [find_table(grid, names, _WHOLE) or _by_content(grid, names) for grid in grids]
    tables = [table for table in found if table is not None]
    if not tables:
        raise no_header(Path(path).name, (("seat",), _OWN))
    return [_with_seats(table) for table in tables]


def _with_headings(grid: Grid, names: Mapping[str, str]) -> Grid:
    """The grid with headings over cells beyond a last heading of tubes: they are tubes too."""
    widest = max((len(row.cells) for row in grid.rows), default=0)
    for at, row in enumerate(grid.rows[:5]):
        last = heading(text_of(row.cells[-1])) if row.cells else ""
        if 1 < len(row.cells) < widest and names.get(last) == TUBES:
            more = tuple(f"Tube {n}" for n in range(2, widest - len(row.cells) + 2))
            headed = replace(row, cells=(*row.cells, *more))
            return replace(grid, rows=(*grid.rows[:at], headed, *grid.rows[at + 1 :]))
    return grid


def _by_content(grid: Grid, names: Mapping[str, str]) -> Table | None:
    """A sheet that names seats, its tubes found by what stands in the other columns."""
    table = find_table(grid, names, (("seat",),))
    if table is None:
        return None
    found = guessed_columns(table.rows, table.columns, table.others)
    if not set(_OWN) & set(found) and len(table.others) == 1:
        found["name"] = next(iter(table.others.values()))
    if not set(_OWN) & set(found):
        return None
    others = {name: at for name, at in table.others.items() if at not in found.values()}
    return replace(table, columns={**table.columns, **found}, others=others)


def _with_seats(table: Table) -> Table:
    """Where a person's tubes stand in one cell, the name is the person's. Raises UserError."""
    if "seat" in table.columns:
        return table
    if TUBES not in table.columns:
        raise no_header(table.file, (("seat",), _OWN))
    columns = {"seat" if c == "name" else c: at for c, at in table.columns.items()}
    return replace(table, columns=columns)


def no_header(file: str, needed: Sequence[Sequence[str]]) -> UserError:
    """What to say of a file in which no row is a header."""
    wanted = " and ".join(" or ".join(group) for group in needed)
    return UserError(
        f"No header row with the columns {wanted} in the first rows. The columns are: "
        f"{', '.join(COLUMNS)}" + (", with seat." if len(needed) > 1 else "."),
        where=file,
    )
