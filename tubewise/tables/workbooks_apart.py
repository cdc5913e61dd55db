"""Workbooks read in a process of its own, bounded in time and memory.

What is asked and answered goes as JSON, so that nothing comes back from there but cells.
"""

from __future__ import annotations

import base64
from typing import Any

from tubewise import limits
from tubewise.apart.process import Progress, run_apart
from tubewise.tables.cells import Cell, Spoiled
from tubewise.tables.grid import Grid, Row
from tubewise.tables.workbooks import workbook_grids


def workbook_grids_apart(file: str, data: bytes) -> tuple[Grid, ...]:
    """As `workbook_grids`. Raises UserError too where that takes too much time or memory."""
    plain = run_apart(
        "tubewise.tables.workbooks_apart:task",
        {"file": file, "data": base64.b64encode(data).decode("ascii")},
        seconds=limits.WORKBOOK_SECONDS,
        memory=limits.WORKBOOK_MEMORY,
        thing="workbook",
        remedy="copy the table into a new file, or save it as CSV",
    )
    return tuple(
        Grid(
            file,
            sheet,
            tuple(Row(number, tuple(map(_cell, cells))) for number, cells in rows),
            tuple(doubts),
        )
        for sheet, rows, doubts in plain
    )


def task(question: dict[str, Any], _: Progress) -> list[Any]:
    """What the process apart does."""
    grids = workbook_grids(question["file"], base64.b64decode(question["data"]))
    return [
        [
            grid.sheet,
            [[row.number, list(map(_plain, row.cells))] for row in grid.rows],
            list(grid.doubts),
        ]
        for grid in grids
    ]


def _plain(cell: Cell) -> Any:
    return [cell.text, cell.reason] if isinstance(cell, Spoiled) else cell


def _cell(plain: Any) -> Cell:
    return Spoiled(*plain) if isinstance(plain, list) else plain
