"""Workbooks read and written: XLSX here, others by `other_workbooks`.

Nothing is evaluated: a formula cell counts as the value its spreadsheet saved beside it, and is
refused where none was saved. Macros are never opened.
"""

from __future__ import annotations

import datetime
import io
import math
import warnings
from collections.abc import Callable, Sequence
from functools import partial
from typing import Any

from tubewise import limits
from tubewise.errors import UserError
from tubewise.tables.cells import INVISIBLE, Cell, Spoiled, clean, disarmed, text_of
from tubewise.tables.grid import Grid, Row, refuse_long, refuse_oversized, trimmed
from tubewise.tables.hidden import hidden_rows, without_hidden
from tubewise.tables.other_workbooks import is_other_workbook, other_grids
from tubewise.tables.weighing import weigh

_UNSAVED = (
    "holds a formula without a saved value; save the file in a spreadsheet, or type the value"
)


def workbook_grids(file: str, data: bytes) -> tuple[Grid, ...]:
    """Every sheet of a workbook that holds anything. Raises UserError where it is damaged.

    Sheets and rows that are hidden are passed over, and the doubts say so.
    """
    if is_other_workbook(data):
        return other_grids(file, data)
    weigh(file, data)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            sheets = _opened(data, values=False).worksheets
            shown = [(at, s) for at, s in enumerate(sheets) if s.sheet_state == "visible"]
            unseen = tuple(str(s.title) for s in sheets if s.sheet_state != "visible")
            grids = [
                without_hidden(
                    _sheet_grid(file, sheet, partial(_saved_values, data, at)),
                    hidden_rows(data, sheet),
                    unseen,
                )
                for at, sheet in shown
            ]
    except (UserError, MemoryError):
        raise
    # The library fails on damaged workbooks with errors of many kinds.
    except Exception:
        raise UserError(
            "The workbook is damaged; open it in a spreadsheet and save it again as XLSX.",
            where=file,
        ) from None
    grids = [grid for grid in grids if grid.rows]
    if not grids:
        raise UserError("The workbook holds no cells.", where=file)
    return tuple(grids)


def _opened(data: bytes, *, values: bool) -> Any:
    import openpyxl

    return openpyxl.load_workbook(io.BytesIO(data), read_only=True, data_only=values)


def _saved_values(data: bytes, at: int) -> Any:
    """The sheet at a position, its formula cells holding the values saved beside them."""
    return _opened(data, values=True).worksheets[at]


def _sheet_grid(file: str, sheet: Any, saved: Callable[[], Any]) -> Grid:
    # Some programs write a wrong extent, which would cut the rows short.
    sheet.reset_dimensions()
    rows: list[Row] = []
    formulas = False
    last = visited = 0
    for number, raw in enumerate(sheet.iter_rows(), start=1):
        # A row that is empty but for its far end costs all the cells before it.
        visited += len(raw)
        if visited > limits.MAX_CELLS:
            raise UserError(
                f"More than {limits.MAX_CELLS:,} cells, most of them empty; copy the table into a "
                "new file.",
                where=f"{file}, sheet {sheet.title}",
            )
        filled = [(at, cell) for at, cell in enumerate(raw) if cell.value is not None]
        if not filled:
            continue
        last = number
        cells: list[Cell] = [""] * (filled[-1][0] + 1)
        for at, cell in filled:
            formulas = formulas or cell.data_type == "f"
            # Before any pattern looks at it.
            refuse_long(file, f"sheet {sheet.title}, row {number}", at, cell.value)
            cells[at] = _cell(cell.value, cell.data_type)
        refuse_oversized(file, f"sheet {sheet.title}, row {number}", cells)
        kept = trimmed(tuple(cells))
        if kept:
            rows.append(Row(number, kept))
        if len(rows) > limits.MAX_ROWS:
            raise UserError(f"More than {limits.MAX_ROWS:,} rows; split the file.", where=file)
    if formulas:
        rows = _with_saved_values(rows, saved(), last)
    return Grid(file, str(sheet.title), tuple(rows))


def _cell(value: Any, kind: str) -> Cell:
    if kind == "f":
        return Spoiled(clean(str(value)), _UNSAVED)
    if kind == "e":
        return Spoiled(clean(str(value)), f"holds the error {value}; mend the formula")
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, (int, float)):
        return float(value) if math.isfinite(value) else Spoiled(str(value), "holds no number")
    if isinstance(value, (datetime.date, datetime.time, datetime.timedelta)):
        shown = value.isoformat() if not isinstance(value, datetime.timedelta) else str(value)
        return Spoiled(
            shown,
            f"was turned into the date {shown} by a spreadsheet; type it anew in a cell formatted "
            "as text",
        )
    return clean(str(value))


def _with_saved_values(rows: list[Row], sheet: Any, last: int) -> list[Row]:
    """Rows whose formula cells hold the value that the spreadsheet saved beside the formula."""
    sheet.reset_dimensions()
    saved = dict(enumerate(sheet.iter_rows(max_row=last), start=1))
    mended: list[Row] = []
    for row in rows:
        cells = list(row.cells)
        for at, cell in enumerate(cells):
            if isinstance(cell, Spoiled) and cell.reason == _UNSAVED:
                found = saved.get(row.number, ())
                if at < len(found) and found[at].value is not None:
                    cells[at] = _cell(found[at].value, found[at].data_type)
        kept = trimmed(tuple(cells))
        if kept:
            mended.append(Row(row.number, kept))
    return mended


def workbook_bytes(sheets: Sequence[tuple[str, list[str], list[Sequence[Cell]]]]) -> bytes:
    """A workbook of sheets (title, header, rows); text that a spreadsheet would run is disarmed."""
    import openpyxl
    from openpyxl.cell import WriteOnlyCell

    book = openpyxl.Workbook(write_only=True)
    for title, header, rows in sheets:
        sheet = book.create_sheet(title)
        for row in (header, *rows):
            line: list[Any] = []
            for cell in row:
                if isinstance(cell, float):
                    line.append(int(cell) if cell == int(cell) else cell)
                    continue
                text = INVISIBLE.sub("", text_of(cell))
                written = WriteOnlyCell(sheet, value=disarmed(text) or None)
                if text:
                    # A string stays a string, whatever it begins with.
                    written.data_type = "s"
                line.append(written)
            sheet.append(line)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()
