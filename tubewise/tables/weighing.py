"""Workbooks weighed before they are opened, so that none costs more than a table of paints.

A workbook of some kilobytes can number its only row a million million, or unpack to gigabytes. The
library that reads it would walk there; this looks at the marks alone.
"""

from __future__ import annotations

import io
import zipfile
from dataclasses import dataclass
from typing import IO, NoReturn
from xml.parsers import expat

from tubewise import limits
from tubewise.errors import UserError

_CHUNK = 2**20
_NEW_FILE = "copy the table into a new file"


def weigh(file: str, data: bytes) -> None:
    """Raise UserError for an archive that is no XLSX, or holds more than a table of paints."""
    _weigh(file, data, _Weight(file), "xl/")


def weigh_opendocument(file: str, data: bytes) -> None:
    """The same for an OpenDocument, whose rows, cells and blanks are repeated by a number."""
    _weigh(file, data, _OpenDocumentWeight(file), "content.xml")


def _weigh(file: str, data: bytes, weight: _Weight, begins: str) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            _weigh_parts(file, archive.infolist())
            for part in archive.infolist():
                if part.filename.startswith(begins) and part.filename.endswith(".xml"):
                    with archive.open(part) as opened:
                        weight.add(part.filename, opened)
    except UserError:
        raise
    # The library fails on damaged archives with errors of many kinds, the unpacker's among them.
    except MemoryError:
        raise
    except Exception:
        raise UserError(
            "The workbook is damaged or cut short; save or send it again.", where=file
        ) from None


def _weigh_parts(file: str, parts: list[zipfile.ZipInfo]) -> None:
    # No part unpacks to more than it says: the unpacker stops there.
    unpacked = sum(part.file_size for part in parts)
    if unpacked > limits.MAX_UNPACKED_BYTES or len(parts) > limits.MAX_PARTS:
        raise UserError(
            f"The workbook unpacks to {unpacked / 2**20:,.0f} MB in {len(parts):,} parts; that is "
            "no table of paints.",
            where=file,
        )
    names = {part.filename for part in parts}
    if "content.xml" in names:
        return
    if "[Content_Types].xml" not in names or not any(n.startswith("xl/") for n in names):
        raise UserError("This archive is no XLSX workbook.", where=file)


@dataclass
class _Weight:
    """What the marks of all parts so far add up to."""

    file: str
    cells: int = 0
    merged: int = 0
    shared: int = 0
    row: int = 0
    column: int = 0

    def add(self, name: str, part: IO[bytes]) -> None:
        """Add a part. Raises UserError where that is too much, and expat's where it is broken."""
        self.row = self.column = 0
        depth = 0
        parser = expat.ParserCreate(namespace_separator="}")

        def start(tag: str, attributes: dict[str, str]) -> None:
            nonlocal depth
            depth += 1
            if depth > limits.MOST_DEPTH:
                self._refuse(f"{name} has elements within elements, more than any workbook")
            self._mark(tag.rpartition("}")[2], attributes)

        def end(_: str) -> None:
            nonlocal depth
            depth -= 1

        def refuse(*_: object) -> None:
            raise UserError(
                "The workbook is damaged; open it in a spreadsheet and save it again as XLSX.",
                where=self.file,
            )

        parser.StartElementHandler = start
        parser.EndElementHandler = end
        parser.StartDoctypeDeclHandler = refuse
        while chunk := part.read(_CHUNK):
            parser.Parse(chunk, False)
        parser.Parse(b"", True)

    def _mark(self, tag: str, attributes: dict[str, str]) -> None:
        if tag == "c":
            self._cell(attributes.get("r", ""))
        elif tag == "row":
            self.column = 0
            self.row = _number(attributes.get("r", "")) or self.row + 1
            self._refuse_row()
        elif tag == "mergeCell":
            self.merged += 1
            if self.merged > limits.MAX_MERGED:
                self._refuse(f"More than {limits.MAX_MERGED:,} ranges of merged cells")
        elif tag == "si":
            self.shared += 1
            if self.shared > limits.MAX_SHARED_STRINGS:
                self._refuse(f"More than {limits.MAX_SHARED_STRINGS:,} shared texts")

    def _cell(self, place: str) -> None:
        letters = place.rstrip("0123456789")
        if figures := place[len(letters) :]:
            self.row = _number(figures)
            self._refuse_row()
        column = _column(letters) or self.column + 1
        if column > limits.MAX_COLUMN_NUMBER:
            self._refuse(
                f"A cell stands in column {letters[:12]}; no spreadsheet has more than "
                f"{limits.MAX_COLUMN_NUMBER:,} columns"
            )
        # A row that is empty but for its far end costs all the cells before it.
        self.cells += max(1, column - self.column)
        self.column = column
        if self.cells > limits.MAX_CELLS:
            self._refuse(f"More than {limits.MAX_CELLS:,} cells, most of them empty")

    def _refuse_row(self) -> None:
        if self.row > limits.MAX_ROW_NUMBER:
            self._refuse(
                f"A row is numbered above {limits.MAX_ROW_NUMBER:,}, more than any spreadsheet has"
            )

    def _refuse(self, words: str) -> NoReturn:
        raise UserError(f"{words}; {_NEW_FILE}.", where=self.file)


class _OpenDocumentWeight(_Weight):
    """The same, of marks that are counted by repeating: rows, cells and blanks."""

    def _mark(self, tag: str, attributes: dict[str, str]) -> None:
        many = {name.rpartition("}")[2]: value for name, value in attributes.items()}
        if tag == "table":
            self.row = 0
        elif tag == "table-row":
            self.column = 0
            self.row += _number(many.get("number-rows-repeated", "")) or 1
            self._refuse_row()
        elif tag in ("table-cell", "covered-table-cell"):
            self._cells(_number(many.get("number-columns-repeated", "")) or 1, many)
        elif tag == "s" and _number(many.get("c", "")) > limits.MAX_CELL:
            self._refuse(f"A cell holds more than {limits.MAX_CELL:,} blanks")

    def _cells(self, repeated: int, many: dict[str, str]) -> None:
        self.column += repeated
        if self.column > limits.MAX_COLUMN_NUMBER:
            self._refuse(
                f"A row has more than {limits.MAX_COLUMN_NUMBER:,} columns, as no spreadsheet has"
            )
        # Rows are filled up with empty cells to their very end; only what holds a value counts.
        self.cells += repeated if "value-type" in many else 1
        self.merged += "number-columns-spanned" in many or "number-rows-spanned" in many
        if self.cells > limits.MAX_CELLS:
            self._refuse(f"More than {limits.MAX_CELLS:,} cells")
        if self.merged > limits.MAX_MERGED:
            self._refuse(f"More than {limits.MAX_MERGED:,} ranges of merged cells")


def _number(figures: str) -> int:
    """A row's number; long runs of figures are all beyond any limit. 0 for what is none."""
    figures = figures.strip()
    if not (figures.isascii() and figures.isdigit()):
        return 0
    return int(figures) if len(figures) <= 12 else 10**12


def _column(letters: str) -> int:
    """A column's number from its letters, from 1; 0 where there are none."""
    number = 0
    for character in letters[:8]:
        if not ("A" <= character.upper() <= "Z"):
            return 0
        number = number * 26 + ord(character.upper()) - 64
    return number
