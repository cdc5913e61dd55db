"""Read the register's spreadsheets, naming row and column of whatever is wrong."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from io import StringIO
from itertools import zip_longest
from pathlib import Path

from tubewise.errors import UserError


class Row(dict[str, str]):
    """One row of a table: its cells by column, and its number as a spreadsheet shows it.

    A plain mapping underneath, for there are thousands of look-ups and loading must be quick.
    """

    __slots__ = ("number",)

    def __init__(self, number: int, cells: Iterable[tuple[str, str]]) -> None:
        super().__init__(cells)
        self.number = number

    def listed(self, column: str) -> tuple[str, ...]:
        """Return the parts of a cell that lists several things with semicolons."""
        cell = self[column]
        if ";" not in cell:
            return (cell,) if cell else ()
        return tuple(part for piece in cell.split(";") if (part := piece.strip()))


@dataclass(slots=True)
class Faults:
    """What is wrong in one file, gathered so that a person mends all of it at once."""

    file: str
    problems: list[str] = field(default_factory=list)

    def add(self, row: Row, column: str, message: str) -> None:
        """Note `message` against a cell, showing what the cell says."""
        self.problems.append(f"row {row.number}, column {column} ({row[column]!r}): {message}")

    def raise_if_any(self) -> None:
        """Raise one `UserError` that lists every fault, if there is one."""
        if self.problems:
            count = len(self.problems)
            raise UserError(
                f"{count} cell{'s' if count > 1 else ''} of the pigment register cannot be used; "
                "correct the file",
                where=self.file,
                problems=self.problems,
            )


def read_rows(path: Path, columns: Sequence[str]) -> Iterator[Row]:
    """Yield the rows of a CSV file with at least `columns`; blank rows are passed over.

    Commas or semicolons between cells, with or without a byte order mark, as spreadsheets
    write them. Raises `UserError` when the file is missing, is not UTF-8 text, or lacks a column.
    """
    try:
        text = path.read_text(encoding="utf-8-sig")
    except OSError as error:
        raise UserError(
            f"this part of the pigment register cannot be read ({error.strerror}); "
            "install tubewise again, or put the file back",
            where=str(path),
        ) from error
    except UnicodeDecodeError as error:
        raise UserError(
            f"not UTF-8 text (byte {error.start}); save it again as CSV UTF-8", where=str(path)
        ) from error
    head = text.partition("\n")[0]
    reader = csv.reader(
        StringIO(text, newline=""), delimiter=";" if head.count(";") > head.count(",") else ","
    )
    try:
        header = [cell.strip() for cell in next(reader, [])]
        missing = [column for column in columns if column not in header]
        if missing:
            raise UserError(
                f"column {', '.join(missing)} is missing; the first row must name the columns "
                f"{', '.join(columns)}",
                where=f"{path.name}, row 1",
            )
        for number, cells in enumerate(reader, start=2):
            stripped = [cell.strip() for cell in cells]
            if not any(stripped):
                continue
            if len(stripped) > len(header):
                raise UserError(
                    f"{len(stripped)} cells under {len(header)} columns; put quotes round a cell "
                    "that holds a comma",
                    where=f"{path.name}, row {number}",
                )
            yield Row(number, zip_longest(header, stripped, fillvalue=""))
    except csv.Error as error:
        raise UserError(f"not a CSV table ({error})", where=path.name) from error
