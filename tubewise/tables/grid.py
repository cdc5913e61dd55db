"""Grids of cells with their rows and columns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise import limits
from tubewise.errors import UserError
from tubewise.tables.cells import Cell, letter


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its number as a spreadsheet shows it, and its cells by column position."""

    number: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """One sheet: rows that hold anything at all.

    `doubts` say why it may not be the whole of what was sent, or what was passed over.
    """

    file: str
    sheet: str
    rows: tuple[Row, ...]
    doubts: tuple[str, ...] = ()


def trimmed(cells: tuple[Cell, ...]) -> tuple[Cell, ...]:
    """The cells without empty ones at the end."""
    end = len(cells)
    while end and cells[end - 1] == "":
        end -= 1
    return cells[:end]


def refuse_oversized(file: str, place: str, cells: Sequence[Cell]) -> None:
    """Raise UserError for a row that no table of paints has."""
    if len(cells) > limits.MAX_COLUMNS and any(cell != "" for cell in cells[limits.MAX_COLUMNS :]):
        raise UserError(
            f"More than {limits.MAX_COLUMNS} columns; this is not a table of paints.",
            where=f"{file}, {place}",
        )
    for at, cell in enumerate(cells):
        refuse_long(file, place, at, cell)


def refuse_long(file: str, place: str, at: int, cell: object) -> None:
    """Raise UserError for a text that no cell of a table of paints holds."""
    if isinstance(cell, str) and len(cell) > limits.MAX_CELL:
        raise UserError(
            f"The cell holds {len(cell):,} characters, at most {limits.MAX_CELL:,} are read; "
            "perhaps a quote was never closed.",
            where=f"{file}, {place}, column {letter(at)}",
        )
