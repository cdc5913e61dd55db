"""Rows and sheets that a spreadsheet hides: what nobody sees is not read as if it were seen."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import Any

from tubewise.tables.grid import Grid

_ROW = re.compile(rb"<(?:\w+:)?row\b([^>]{0,600})>")
_NUMBER = re.compile(rb"\br=[\"'](\d{1,9})[\"']")
_HIDDEN = re.compile(rb"\bhidden=[\"'](?:1|true)[\"']")


def hidden_rows(data: bytes, sheet: Any) -> frozenset[int]:
    """The numbers of a sheet's hidden rows, as the marks of its part of the XLSX say."""
    path = str(getattr(sheet, "_worksheet_path", "")).lstrip("/")
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        if path not in archive.namelist():
            return frozenset()
        marks = archive.read(path)
    if b"hidden=" not in marks:
        return frozenset()
    found = set()
    number = 0
    for row in _ROW.finditer(marks):
        printed = _NUMBER.search(row[1])
        number = int(printed[1]) if printed else number + 1
        if _HIDDEN.search(row[1]):
            found.add(number)
    return frozenset(found)


def without_hidden(grid: Grid, hidden: Collection[int], sheets: Sequence[str]) -> Grid:
    """The grid without its hidden rows; its doubts tell of them and of the hidden sheets."""
    seen = tuple(row for row in grid.rows if row.number not in hidden)
    doubts = list(grid.doubts)
    gone = len(grid.rows) - len(seen)
    if gone:
        rows = "1 hidden row was" if gone == 1 else f"{gone:,} hidden rows were"
        doubts.append(
            f"{rows} passed over in the sheet {grid.sheet}; show them there if they count."
        )
    if sheets:
        doubts.append(f"Hidden sheets were passed over: {', '.join(sheets)}.")
    return replace(grid, rows=seen, doubts=tuple(doubts))
