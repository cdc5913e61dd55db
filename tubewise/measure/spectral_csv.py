"""Spectra from plain tables: one reading a row, or one reading a column.

Understood: commas, semicolons, tabs, blanks or bars between cells; decimal commas where the cells
are not split by commas; wavelengths written `400`, `400 nm`, `R400`, `nm400`, `SPECTRAL_400` or
`λ 400 [%]`; lines of `key: value` before the table.
"""

from __future__ import annotations

import csv
import io
import re
from pathlib import PurePath

from tubewise.errors import UserError
from tubewise.limits import MOST_READINGS
from tubewise.measure.spectra import (
    FEWEST_BANDS,
    Conditions,
    Spectra,
    Spectrum,
    conditions_from,
    is_percent,
    number,
    spectrum,
)

_BAND = re.compile(
    r"(?:(?:spectral|spec|refl(?:ectance|\.)?|remission|wavelength|lambda|band|nm|wl|r|λ|w)[\s_.:(]*)?"
    r"(?:nm[\s_]*)?(\d{3,4}(?:[.,]\d+)?)\s*(?:_?nm)?\s*\)?\s*(?:[\[(]?\s*%\s*[\])]?)?",
    re.IGNORECASE,
)
_NAME = re.compile(r"(sample|name|reading|probe|bezeichnung)([\s_]*(name|id|no|nr))?", re.I)
_DELIMITERS = (";", "\t", "|", ",")
_PREAMBLE = 60


def _wavelength(cell: str) -> float | None:
    match = _BAND.fullmatch(cell.strip().strip('"'))
    if not match:
        return None
    value = float(match.group(1).replace(",", "."))
    return value if 200.0 <= value <= 2600.0 else None


def read_spectral_csv(text: str, file: str, scale: str = "auto") -> Spectra:
    """Spectra of a spectral table, in rows or in columns, found by its wavelengths.

    `scale` is `auto`, `fraction` or `percent`. Raises UserError with line and column for cells
    that are not numbers, gaps, repeated wavelengths, or no table of spectra.
    """
    rows = _rows(text, file)
    header = next(
        (
            at
            for at, (_, cells) in enumerate(rows[:_PREAMBLE])
            if sum(_wavelength(cell) is not None for cell in cells) >= FEWEST_BANDS
            and not _numbers_only(cells, rows, at)
        ),
        None,
    )
    if header is not None:
        raw, percent_header = _across(rows, header, file)
        start = header
    else:
        raw, percent_header, start = _down(rows, file)
    if len(raw) > MOST_READINGS:
        raise UserError(f"More than {MOST_READINGS:,} spectra; split the file.", where=file)
    conditions = _preamble(rows[:start])
    percent, note = is_percent([v for row in raw for v in row[2]], scale, percent_header)
    found: list[Spectrum] = []
    for name, wavelengths, values, place, columns in raw:
        own = conditions_from(columns)
        found.append(
            spectrum(
                name or PurePath(file).stem,
                wavelengths,
                values,
                place,
                percent=percent,
                conditions=own.filled(conditions),
                columns=columns,
            )
        )
    return Spectra(tuple(found), (f"{file}: {note}",) if note else ())


_Raw = tuple[str, list[float], list[float], str, dict[str, str]]


def _rows(text: str, file: str) -> list[tuple[int, list[str]]]:
    text = text.lstrip("\ufeff")
    lines = [line for line in text.splitlines() if line.strip()]
    if text[:4].casefold() == "sep=" and len(text) > 4 and text[4] in _DELIMITERS:
        delimiter = text[4]
        text = "\n" + text.partition("\n")[2]
    else:
        delimiter = _delimiter(lines)
    if not delimiter:
        return [
            (at, line.split()) for at, line in enumerate(text.splitlines(), start=1) if line.strip()
        ]
    reader = csv.reader(io.StringIO(text), delimiter=delimiter)
    rows = []
    try:
        for cells in reader:
            cells = [cell.strip() for cell in cells]
            while cells and not cells[-1]:
                cells.pop()
            if cells:
                rows.append((reader.line_num, cells))
    except csv.Error:
        raise UserError(
            "This line can't be cut into cells; a quote is out of order.",
            where=f"{file}, line {reader.line_num}",
        ) from None
    return rows


def _delimiter(lines: list[str]) -> str:
    """The delimiter under which most lines have the same number of cells, more than one."""
    body = lines[-200:]
    best, score = "", 0
    for delimiter in _DELIMITERS:
        counts = [line.count(delimiter) for line in body if line.count(delimiter)]
        if not counts:
            continue
        common = max(set(counts), key=counts.count)
        # `400;0,05`: a comma that is always a decimal mark splits no cells.
        if delimiter == "," and all(re.fullmatch(r"\s*[\d.]+\s+\d+,\d+\s*", line) for line in body):
            continue
        if counts.count(common) > score:
            best, score = delimiter, counts.count(common)
    return best


def _numbers_only(cells: list[str], rows: list[tuple[int, list[str]]], at: int) -> bool:
    """Whether a row that could be a header of wavelengths is data of a table with readings down.

    A header's wavelengths differ and step on; percent readings above 200 don't exist, so only
    a row inside a table with a wavelength of its own in front can deceive.
    """
    found = [w for cell in cells if (w := _wavelength(cell)) is not None]
    return len(set(found)) < FEWEST_BANDS


def _across(rows: list[tuple[int, list[str]]], header: int, file: str) -> tuple[list[_Raw], bool]:
    line, names = rows[header]
    bands = {at: w for at, cell in enumerate(names) if (w := _wavelength(cell)) is not None}
    others = [at for at in range(len(names)) if at not in bands]
    name_at = next((at for at in others if _NAME.fullmatch(names[at].strip())), None)
    if name_at is None and others:
        name_at = others[0]
    out: list[_Raw] = []
    for line, cells in rows[header + 1 :]:
        cells = cells + [""] * (len(names) - len(cells))
        wavelengths: list[float] = []
        values: list[float] = []
        for at, w in bands.items():
            if not cells[at]:
                continue
            value = number(cells[at])
            if value is None:
                raise UserError(
                    f"{cells[at]!r} is not a number; every band needs one.",
                    where=f"{file}, line {line}, column {names[at]}",
                )
            wavelengths.append(w)
            values.append(value)
        name = cells[name_at] if name_at is not None else str(len(out) + 1)
        if not values:
            # A line of remarks or totals under the table.
            continue
        columns = {names[at]: cells[at] for at in others if names[at] and cells[at]}
        out.append((name, wavelengths, values, f"{file}, line {line}", columns))
    if not out:
        raise UserError("The table has wavelengths but no readings.", where=f"{file}, line {line}")
    return out, any("%" in names[at] for at in bands)


def _down(rows: list[tuple[int, list[str]]], file: str) -> tuple[list[_Raw], bool, int]:
    def is_band(cells: list[str]) -> bool:
        w = _wavelength(cells[0]) if len(cells) > 1 else None
        return w is not None and number(cells[1]) is not None

    first = next((at for at, (_, cells) in enumerate(rows) if is_band(cells)), None)
    if first is None or sum(is_band(cells) for _, cells in rows[first:]) < FEWEST_BANDS:
        raise UserError(
            "No table of spectra found. Put wavelengths (400, 410 nm, R_420 …) in the header and "
            "one reading in each row, or wavelengths in the first column and one reading in each "
            "column.",
            where=file,
        )
    width = len(rows[first][1])
    headed = first > 0 and len(rows[first - 1][1]) in (width, width - 1)
    names = rows[first - 1][1] if headed else []
    if len(names) == width - 1:
        names = ["", *names]
    wavelengths: list[float] = []
    table: list[list[float]] = []
    for line, cells in rows[first:]:
        w = _wavelength(cells[0])
        if w is None:
            break
        if len(cells) != width:
            raise UserError(
                f"{len(cells)} cells where the line above has {width}.",
                where=f"{file}, line {line}",
            )
        values: list[float] = []
        for at, cell in enumerate(cells[1:], start=1):
            value = number(cell)
            if value is None:
                column = names[at] if names and names[at] else str(at + 1)
                raise UserError(
                    f"{cell!r} is not a number; every band needs one.",
                    where=f"{file}, line {line}, column {column}",
                )
            values.append(value)
        wavelengths.append(w)
        table.append(values)
    out: list[_Raw] = []
    for at in range(width - 1):
        name = names[at + 1] if names else ("" if width == 2 else str(at + 1))
        # `R (%)` and the like head a single column without naming a sample.
        if width == 2 and re.fullmatch(
            r"(r|refl\w*|value\w*|%|y|spectr\w*)?\s*[\[(]?%?[\])]?", name, re.I
        ):
            name = ""
        name = re.sub(r"\s*[\[(]\s*%\s*[\])]\s*$", "", name)
        out.append((name, wavelengths, [row[at] for row in table], f"{file}, column {at + 2}", {}))
    percent = any("%" in name for name in names)
    return out, percent, first - 1 if headed else first


def _preamble(rows: list[tuple[int, list[str]]]) -> Conditions:
    pairs: dict[str, str] = {}
    for _, cells in rows:
        line = " ".join(cells).lstrip("# ")
        key, mark, value = line.partition(":")
        if len(cells) > 1 and not mark:
            key, value = cells[0].lstrip("# "), " ".join(cells[1:])
        if "=" in key and not value:
            key, _, value = key.partition("=")
        pairs.setdefault(key.strip(), value.strip())
    return conditions_from(pairs)
