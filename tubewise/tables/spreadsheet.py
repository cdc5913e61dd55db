"""Spreadsheets of any kind read into grids of cells, and tables written."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence
from pathlib import Path

from tubewise import limits
from tubewise.errors import UserError
from tubewise.tables.cells import Cell, disarmed, text_of
from tubewise.tables.grid import Grid
from tubewise.tables.numerals import number_text
from tubewise.tables.text_files import decode, text_grid, unsure_letters
from tubewise.tables.workbooks import workbook_bytes
from tubewise.tables.workbooks_apart import workbook_grids_apart
from tubewise.tables.writing import write_whole

_WORKBOOKS = {".xlsx", ".xlsm", ".ods", ".xls"}
_TEXTS = {"", ".csv", ".tsv", ".tab", ".txt"}


def read_grids(path: str | Path, known: frozenset[str]) -> tuple[Grid, ...]:
    """Every sheet of a CSV, XLSX, ODS or old XLS file; a CSV file is one sheet without a name.

    `known` are the headings expected, by which the delimiter of a CSV file is recognised.

    Raises UserError for anything that is not such a file, is empty or is too large.
    """
    path = Path(path)
    data = _bytes(path)
    suffix = path.suffix.lower()
    if data.startswith(b"PK\x03\x04"):
        return workbook_grids_apart(path.name, data)
    if data.startswith(b"\xd0\xcf\x11\xe0"):
        # An old .xls, or any workbook with a password, which its reader refuses.
        return workbook_grids_apart(path.name, data)
    if suffix in _WORKBOOKS:
        raise UserError(
            "This is called a workbook but isn't one; save it again as XLSX, or as CSV with the "
            "ending .csv.",
            where=path.name,
        )
    if suffix not in _TEXTS:
        raise UserError(
            f"Files ending in {suffix} are not read; save it as CSV, XLSX or ODS.", where=path.name
        )
    text = decode(data, path.name)
    return (text_grid(path.name, text, known, unsure_letters(data)),)


def _bytes(path: Path) -> bytes:
    try:
        if path.is_dir():
            raise UserError("This is a folder; name a CSV or XLSX file.", where=str(path))
        if path.exists() and not path.is_file():
            raise UserError("This is not a plain file; name a CSV or XLSX file.", where=str(path))
        size = path.stat().st_size
        if size > limits.MAX_BYTES:
            raise UserError(
                f"The file has {size / 2**20:.0f} MB; at most {limits.MAX_BYTES // 2**20} MB "
                "are read. Split it.",
                where=path.name,
            )
        data = path.read_bytes()
        if len(data) != size or path.stat().st_size != size:
            raise UserError(
                "The file is being written at this moment; wait until it is whole.",
                where=path.name,
            )
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
        data = workbook_bytes(sheets)
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
