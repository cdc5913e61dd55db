"""Tables in text files: their encoding and their delimiter recognised."""

from __future__ import annotations

import csv
import io
import re

from tubewise import limits
from tubewise.errors import UserError
from tubewise.tables.cells import clean
from tubewise.tables.grid import Grid, Row, refuse_oversized, trimmed
from tubewise.tables.headers import heading

_DELIMITERS = (";", "\t", "|", ",")


def decode(data: bytes, file: str) -> str:
    """Text of bytes in UTF-8, UTF-16 or Windows-1252, told apart by their looks."""
    marks = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
    names = [name for mark, name in marks if data.startswith(mark)]
    if not names:
        head = data[:4000]
        if head[1::2].count(0) > len(head) // 4:
            names = ["utf-16-le"]
        elif head[0::2].count(0) > len(head) // 4:
            names = ["utf-16-be"]
        else:
            names = ["utf-8", "cp1252"]
    for name in names:
        try:
            text = data.decode(name)
        except UnicodeDecodeError:
            continue
        odd = len(re.findall("[\x00-\x08\x0e-\x1f]", text[:4000]))
        if "\x00" not in text and odd * 50 <= len(text[:4000]):
            return text
        break
    raise UserError(
        "This is not a text file in an encoding we know; save it as CSV in UTF-8, or as XLSX.",
        where=file,
    )


def text_grid(file: str, text: str, known: frozenset[str]) -> Grid:
    """A text file as one sheet; `known` are the headings that tell its delimiter."""
    # Some spreadsheets write their delimiter as a first line of its own.
    announced = text[4:5] if text[:4].lower() == "sep=" else ""
    if announced in _DELIMITERS:
        rows = _split(file, text, announced)[1:]
    else:
        rows = _split(file, text, _delimiter(text, known))
    if not rows:
        raise UserError("The file holds no cells.", where=file)
    return Grid(file, "", tuple(rows))


def _delimiter(text: str, known: frozenset[str]) -> str:
    """The delimiter that finds most of the known headings in one of the first lines."""
    lines = [line for line in text[:100_000].splitlines() if line.strip()][: limits.HEADER_WITHIN]

    def score(delimiter: str) -> tuple[int, int]:
        cut = [
            [heading(cell.strip().strip('"')) for cell in line.split(delimiter)] for line in lines
        ]
        return (
            max((len(known.intersection(cells)) for cells in cut), default=0),
            max((len(cells) for cells in cut), default=0),
        )

    return max(_DELIMITERS, key=score)


def _split(file: str, text: str, delimiter: str) -> list[Row]:
    rows: list[Row] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    number = 0
    try:
        for number, raw in enumerate(reader, start=1):
            refuse_oversized(file, f"row {number}", raw)
            cells = tuple(clean(cell) for cell in raw)
            if any(cells):
                rows.append(Row(number, trimmed(cells)))
            if len(rows) > limits.MAX_ROWS:
                raise UserError(f"More than {limits.MAX_ROWS:,} rows; split the file.", where=file)
    except csv.Error as error:
        fault = (
            "a quote was opened and never closed"
            if "end of data" in str(error) or "field limit" in str(error)
            else "its quotes are out of order"
        )
        raise UserError(
            f"This row can't be cut into cells: {fault}.", where=f"{file}, row {number + 1}"
        ) from None
    return rows
