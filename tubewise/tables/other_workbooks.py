"""Workbooks of other kinds read through calamine: OpenDocument (ODS) and the old XLS.

Nothing is evaluated there either: a formula counts as the value saved beside it.
"""

from __future__ import annotations

import datetime
import io
import math
import zipfile
from typing import Any

from tubewise import limits
from tubewise.errors import UserError
from tubewise.tables.cells import Cell, Spoiled, clean
from tubewise.tables.grid import Grid, Row, refuse_long, refuse_oversized, trimmed
from tubewise.tables.weighing import weigh_opendocument

_OLD = b"\xd0\xcf\x11\xe0"


def is_other_workbook(data: bytes) -> bool:
    """Whether bytes are an OpenDocument archive or an old XLS, not an XLSX."""
    if data.startswith(_OLD):
        return True
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            return "content.xml" in archive.namelist()
    # The library fails on damaged archives with errors of many kinds; the other reader tells.
    except Exception:
        return False


def other_grids(file: str, data: bytes) -> tuple[Grid, ...]:
    """Every sheet that is shown and holds anything. Raises UserError where it can't be read."""
    from python_calamine import CalamineWorkbook, SheetVisibleEnum

    if not data.startswith(_OLD):
        weigh_opendocument(file, data)
    try:
        book = CalamineWorkbook.from_filelike(io.BytesIO(data))
        shown = [s.name for s in book.sheets_metadata if s.visible == SheetVisibleEnum.Visible]
        unseen = [s.name for s in book.sheets_metadata if s.visible != SheetVisibleEnum.Visible]
        grids = [_grid(file, name, book.get_sheet_by_name(name)) for name in shown]
    except (UserError, MemoryError):
        raise
    # The library fails on damaged and locked workbooks with errors of many kinds.
    except Exception:
        raise UserError(
            "The workbook is damaged or has a password; open it in a spreadsheet and save it again "
            "as XLSX or CSV without one.",
            where=file,
        ) from None
    grids = [grid for grid in grids if grid.rows]
    if not grids:
        raise UserError("The workbook holds no cells.", where=file)
    doubts = (f"Hidden sheets were passed over: {', '.join(unseen)}.",) if unseen else ()
    return tuple(Grid(g.file, g.sheet, g.rows, (*g.doubts, *doubts)) for g in grids)


def _grid(file: str, name: str, sheet: Any) -> Grid:
    height, width = (1 + n for n in sheet.end or (0, 0))
    if height * width > limits.MAX_CELLS:
        raise UserError(
            f"More than {limits.MAX_CELLS:,} cells, most of them empty; copy the table into a new "
            "file.",
            where=f"{file}, sheet {name}",
        )
    rows: list[Row] = []
    for number, raw in enumerate(sheet.to_python(skip_empty_area=False), start=1):
        for at, value in enumerate(raw):
            # Before any pattern looks at it.
            refuse_long(file, f"sheet {name}, row {number}", at, value)
        cells = trimmed(tuple(map(_cell, raw)))
        refuse_oversized(file, f"sheet {name}, row {number}", cells)
        if cells:
            rows.append(Row(number, cells))
        if len(rows) > limits.MAX_ROWS:
            raise UserError(f"More than {limits.MAX_ROWS:,} rows; split the file.", where=file)
    return Grid(file, name, tuple(rows))


def _cell(value: Any) -> Cell:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return float(value) if math.isfinite(value) else Spoiled(str(value), "holds no number")
    if isinstance(value, (datetime.date, datetime.time, datetime.timedelta)):
        return Spoiled(
            str(value),
            f"was turned into the date {value} by a spreadsheet; type it anew in a cell formatted "
            "as text",
        )
    return clean(str(value))
