"""Grids of cells out of CSV and XLSX files, with their rows and columns, and back.

Nothing is evaluated: a formula cell counts as the value its spreadsheet saved beside it, and is
refused where none was saved. Macros are never opened.
"""

from __future__ import annotations

import csv
import datetime
import io
import math
import re
import unicodedata
import warnings
import zipfile
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache, partial
from pathlib import Path
from typing import Any

from tubewise.errors import UserError
from tubewise.tables.numerals import number_text
from tubewise.tables.writing import write_whole

MAX_BYTES = 64 * 2**20
MAX_UNPACKED_BYTES = 512 * 2**20
MAX_PARTS = 2_000
MAX_ROWS = 250_000
MAX_COLUMNS = 200
MAX_CELLS = 25_000_000
MAX_CELL = 10_000
MAX_PROBLEMS = 200
_HEADER_WITHIN = 20
_DELIMITERS = (";", "\t", "|", ",")

_WORKBOOKS = {".xlsx", ".xlsm"}
_TEXTS = {"", ".csv", ".tsv", ".tab", ".txt"}
# A spreadsheet runs a cell that starts so; the full-width signs count in East Asian versions.
_RUNS = re.compile(r"'*[=+\-@\t\r＝＋－＠]")
_QUOTED = re.compile(r"'+[=+\-@\t\r＝＋－＠]")
_PLAIN_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?")
_INVISIBLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\u200b\u2060\ufeff\ufffe\uffff]")


@dataclass(frozen=True, slots=True)
class Spoiled:
    """A cell whose text was lost before it reached us; `reason` says how."""

    text: str
    reason: str


Cell = str | float | Spoiled


@dataclass(frozen=True, slots=True)
class Row:
    """One row: its number as a spreadsheet shows it, and its cells by column position."""

    number: int
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True)
class Grid:
    """One sheet: rows that hold anything at all."""

    file: str
    sheet: str
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A sheet whose header row was found.

    `columns` maps our column names to positions, `others` the names we do not know. `problems` are
    faults of the table itself; rows that have one are left out of `rows`.
    """

    file: str
    sheet: str
    header: Row
    columns: Mapping[str, int]
    others: Mapping[str, int]
    rows: tuple[Row, ...]
    problems: tuple[str, ...]

    def cell(self, row: Row, column: str) -> Cell:
        """The cell under our column name; empty where the row or the column ends earlier."""
        at = self.columns.get(column)
        return row.cells[at] if at is not None and at < len(row.cells) else ""

    def extra(self, row: Row) -> dict[str, str]:
        """Unknown columns of the row that hold something."""
        found = {
            name: text_of(row.cells[at]) for name, at in self.others.items() if at < len(row.cells)
        }
        return {name: text for name, text in found.items() if text}

    def place(self, row: Row, column: str = "") -> str:
        """`row 5, column price`, with the sheet where a workbook has several."""
        words = [f"sheet {self.sheet}"] if self.sheet else []
        words.append(f"row {row.number}")
        if column:
            words.append(f"column {column}")
        return ", ".join(words)


def text_of(cell: Cell) -> str:
    """The cell as text."""
    if isinstance(cell, Spoiled):
        return cell.text
    if isinstance(cell, str):
        return cell
    return number_text(cell)


def clean(text: str) -> str:
    """Text without invisible characters, outer blanks or the quote that disarms a formula."""
    if not (text.isascii() and text.isprintable()):
        text = _INVISIBLE.sub("", unicodedata.normalize("NFC", text))
        text = text.replace("\r\n", "\n").replace("\r", "\n").replace("\u00a0", " ")
    text = text.strip()
    return text[1:] if text[:1] == "'" and _QUOTED.match(text) else text


def disarmed(text: str) -> str:
    """Text that no spreadsheet will run; `clean` gives the text back."""
    if _RUNS.match(text) and not _PLAIN_NUMBER.fullmatch(text):
        return "'" + text
    return text


def letter(position: int) -> str:
    """A spreadsheet's name for a column counted from 0: A, B, ... Z, AA."""
    name = ""
    position += 1
    while position:
        position, rest = divmod(position - 1, 26)
        name = chr(65 + rest) + name
    return name


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
    shown = list(problems[:MAX_PROBLEMS])
    if len(problems) > MAX_PROBLEMS:
        shown.append(f"and {len(problems) - MAX_PROBLEMS:,} more")
    count = "1 problem" if len(problems) == 1 else f"{len(problems):,} problems"
    raise UserError(f"{count} in {what}; nothing was read. Mend:", where=file, problems=shown)


# ---------------------------------------------------------------- reading


def read_grids(path: str | Path, known: frozenset[str]) -> tuple[Grid, ...]:
    """Every sheet of a CSV or XLSX file; a CSV file is one sheet without a name.

    `known` are the headings expected, by which the delimiter of a CSV file is recognised.

    Raises UserError for anything that is not such a file, is empty or is too large.
    """
    path = Path(path)
    data = _bytes(path)
    suffix = path.suffix.lower()
    if data.startswith(b"PK\x03\x04"):
        if suffix == ".ods":
            raise UserError("OpenDocument is not read; save it as XLSX or CSV.", where=path.name)
        return _workbook(path.name, data)
    if data.startswith(b"\xd0\xcf\x11\xe0"):
        raise UserError(
            "This is an old .xls file or a workbook with a password; save it as XLSX or CSV "
            "without one.",
            where=path.name,
        )
    if suffix in _WORKBOOKS:
        raise UserError(
            "This is called a workbook but isn't one; save it again as XLSX, or as CSV with the "
            "ending .csv.",
            where=path.name,
        )
    if suffix not in _TEXTS:
        raise UserError(
            f"Files ending in {suffix} are not read; save it as CSV or XLSX.", where=path.name
        )
    return (_text_grid(path.name, decode(data, path.name), known),)


def _bytes(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise UserError("This is a folder; name a CSV or XLSX file.", where=str(path))
        if path.exists() and not path.is_file():
            raise UserError("This is not a plain file; name a CSV or XLSX file.", where=str(path))
        size = path.stat().st_size
        if size > MAX_BYTES:
            raise UserError(
                f"The file has {size / 2**20:.0f} MB; at most {MAX_BYTES // 2**20} MB are read. "
                "Split it.",
                where=path.name,
            )
        data = path.read_bytes()
    except FileNotFoundError:
        raise UserError(
            "There is no such file; look at its name and folder.", where=str(path)
        ) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "bad name"
        raise UserError(f"The file can't be read ({reason}).", where=str(path)) from None
    if not data.strip(b"\x00 \t\r\n"):
        raise UserError("The file is empty.", where=path.name)
    return data


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


def _text_grid(file: str, text: str, known: frozenset[str]) -> Grid:
    # Some spreadsheets write their delimiter as a first line of its own.
    told = text[4:5] if text[:4].lower() == "sep=" else ""
    if told in _DELIMITERS:
        rows = _split(file, text, told)[1:]
    else:
        rows = _split(file, text, _delimiter(text, known))
    if not rows:
        raise UserError("The file holds no cells.", where=file)
    return Grid(file, "", tuple(rows))


def _delimiter(text: str, known: frozenset[str]) -> str:
    """The delimiter that finds most of the known headings in one of the first lines."""
    lines = [line for line in text[:100_000].splitlines() if line.strip()][:_HEADER_WITHIN]

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
            cells = tuple(clean(cell) for cell in raw)
            _measure(file, f"row {number}", cells)
            if any(cells):
                rows.append(Row(number, _trimmed(cells)))
            if len(rows) > MAX_ROWS:
                raise UserError(f"More than {MAX_ROWS:,} rows; split the file.", where=file)
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


def _trimmed(cells: tuple[Cell, ...]) -> tuple[Cell, ...]:
    end = len(cells)
    while end and cells[end - 1] == "":
        end -= 1
    return cells[:end]


def _measure(file: str, place: str, cells: Sequence[Cell]) -> None:
    if len(cells) > MAX_COLUMNS and any(cell != "" for cell in cells[MAX_COLUMNS:]):
        raise UserError(
            f"More than {MAX_COLUMNS} columns; this is not a table of paints.",
            where=f"{file}, {place}",
        )
    for at, cell in enumerate(cells):
        if isinstance(cell, str) and len(cell) > MAX_CELL:
            raise UserError(
                f"The cell holds {len(cell):,} characters, at most {MAX_CELL:,} are read; perhaps "
                "a quote was never closed.",
                where=f"{file}, {place}, column {letter(at)}",
            )


def _workbook(file: str, data: bytes) -> tuple[Grid, ...]:
    _weigh(file, data)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            grids = [
                _sheet_grid(file, sheet, partial(_saved_values, data, at))
                for at, sheet in enumerate(_opened(data, values=False).worksheets)
            ]
    except UserError:
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


def _weigh(file: str, data: bytes) -> None:
    """Refuse archives that would unpack to more than a table of paints needs."""
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            parts = archive.infolist()
    except (zipfile.BadZipFile, ValueError, OSError, NotImplementedError, OverflowError):
        raise UserError(
            "The workbook is damaged or cut short; save or send it again.", where=file
        ) from None
    unpacked = sum(part.file_size for part in parts)
    if unpacked > MAX_UNPACKED_BYTES or len(parts) > MAX_PARTS:
        raise UserError(
            f"The workbook unpacks to {unpacked / 2**20:,.0f} MB in {len(parts):,} parts; that is "
            "no table of paints.",
            where=file,
        )
    names = {part.filename for part in parts}
    if "mimetype" in names and "content.xml" in names:
        raise UserError("OpenDocument is not read; save it as XLSX or CSV.", where=file)
    if "[Content_Types].xml" not in names or not any(n.startswith("xl/") for n in names):
        raise UserError("This archive is no XLSX workbook.", where=file)


def _sheet_grid(file: str, sheet: Any, saved: Callable[[], Any]) -> Grid:
    # Some programs write a wrong extent, which would cut the rows short.
    sheet.reset_dimensions()
    rows: list[Row] = []
    formulas = False
    last = visited = 0
    for number, raw in enumerate(sheet.iter_rows(), start=1):
        # A row that is empty but for its far end costs all the cells before it.
        visited += len(raw)
        if visited > MAX_CELLS:
            raise UserError(
                f"More than {MAX_CELLS:,} cells, most of them empty; copy the table into a "
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
            cells[at] = _cell(cell.value, cell.data_type)
        _measure(file, f"sheet {sheet.title}, row {number}", cells)
        kept = _trimmed(tuple(cells))
        if kept:
            rows.append(Row(number, kept))
        if len(rows) > MAX_ROWS:
            raise UserError(f"More than {MAX_ROWS:,} rows; split the file.", where=file)
    if formulas:
        rows = _with_saved_values(rows, saved(), last)
    return Grid(file, str(sheet.title), tuple(rows))


_UNSAVED = (
    "holds a formula without a saved value; save the file in a spreadsheet, or type the value"
)


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
        kept = _trimmed(tuple(cells))
        if kept:
            mended.append(Row(row.number, kept))
    return mended


# ---------------------------------------------------------------- finding the table


def find_table(
    grid: Grid, names: Mapping[str, str], needed: Sequence[Sequence[str]]
) -> Table | None:
    """The table whose header stands in one of the first rows, or None.

    `names` maps headings (see `heading`) to our columns. Of each group in `needed`, one column
    must be there.
    """
    best: tuple[int, int] | None = None
    for at, row in enumerate(grid.rows[:_HEADER_WITHIN]):
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
    return Table(grid.file, grid.sheet, header, columns, others, tuple(whole), tuple(problems))


# ---------------------------------------------------------------- writing


def write_tables(
    path: str | Path, tables: Iterable[tuple[str, Sequence[str], Iterable[Sequence[Cell]]]]
) -> None:
    """Write sheets (title, header, rows) as XLSX, or the only one of them as CSV in UTF-8.

    The file appears whole or not at all. Text that a spreadsheet would run is disarmed.
    """
    path = Path(path)
    suffix = path.suffix.lower()
    sheets = [(title, list(header), list(rows)) for title, header, rows in tables]
    if suffix == ".xlsx":
        data = _workbook_bytes(sheets)
    elif suffix == ".csv":
        (_, header, rows) = sheets[0]
        text = io.StringIO(newline="")
        writer = csv.writer(text, lineterminator="\r\n")
        writer.writerow([disarmed(name) for name in header])
        writer.writerows([[_written(cell) for cell in row] for row in rows])
        data = text.getvalue().encode("utf-8-sig", errors="replace")
    else:
        raise UserError("Name a file that ends in .csv or .xlsx.", where=str(path))
    write_whole(path, data)


def _written(cell: Cell) -> str:
    if not isinstance(cell, float):
        return disarmed(text_of(cell))
    text = number_text(cell)
    # Three decimals alone could be thousands.
    return f"{text}0" if re.fullmatch(r"-?\d+\.\d{3}", text) else text


def _workbook_bytes(sheets: Sequence[tuple[str, list[str], list[Sequence[Cell]]]]) -> bytes:
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
                text = _INVISIBLE.sub("", text_of(cell))
                written = WriteOnlyCell(sheet, value=disarmed(text) or None)
                if text:
                    # A string stays a string, whatever it begins with.
                    written.data_type = "s"
                line.append(written)
            sheet.append(line)
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()
