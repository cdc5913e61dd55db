"""Spectra from CGATS text files (ISO 28178, ANSI CGATS.17)."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from tubewise.errors import UserError
from tubewise.limits import MOST_READINGS
from tubewise.measure.spectra import (
    Conditions,
    Spectra,
    conditions_from,
    is_percent,
    number,
    spectrum,
)

_TOKEN = re.compile(r'"([^"]*)"|(\S+)')
# SPECTRAL_NM and SPECTRAL_PCT are the standard's; the others are seen in the wild.
_BAND = re.compile(
    r"(?:SPECTRAL_NM_?|SPECTRAL_PCT_?|SPECTRAL_|SPEC_|SPECT_|REFL_|R_|NM_?)(\d{3,4}(?:[.,]\d+)?)"
    r"(?:_?NM)?",
    re.IGNORECASE,
)
_NAMES = ("SAMPLE_NAME", "SAMPLENAME", "NAME", "SAMPLE_ID", "SAMPLEID", "SAMPLE_LOC")


def looks_like_cgats(text: str) -> bool:
    """Whether a text has the marks of CGATS: a data format and data between its keywords."""
    return bool(re.search(r"^\s*BEGIN_DATA_FORMAT\b", text, re.MULTILINE))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One row of a table with spectra: the line it stands on, its name and its numbers as written.

    `columns` are its other cells by field.
    """

    line: int
    name: str
    wavelengths_nm: list[float]
    values: list[float]
    columns: dict[str, str]
    conditions: Conditions


@dataclass(slots=True)
class _Reader:
    """What has been met of a file so far, line by line."""

    file: str
    header: dict[str, str] = field(default_factory=dict)
    fields: list[str] = field(default_factory=list)
    rows: list[tuple[int, list[str]]] = field(default_factory=list)
    read: list[_Row] = field(default_factory=list)
    percent: bool = False
    section: str = ""
    opened: int = 0

    def take(self, at: int, line: str) -> None:
        """Read line number `at`."""
        stripped = line.strip()
        if self.section != "data" and stripped.startswith("#"):
            return
        word = stripped.upper()
        if word == "BEGIN_DATA_FORMAT":
            self.section, self.fields, self.opened = "format", [], at
        elif word == "END_DATA_FORMAT":
            self.section = ""
        elif word == "BEGIN_DATA":
            self._begin_data(at)
        elif word == "END_DATA":
            self._end_data()
        elif self.section == "format":
            self.fields += [a or b for a, b in _TOKEN.findall(stripped)]
        elif self.section == "data":
            if stripped:
                self.rows.append((at, _cells(line, len(self.fields))))
        elif stripped:
            self._keyword(stripped)

    def _begin_data(self, at: int) -> None:
        if self.section:
            raise UserError(
                "BEGIN_DATA before the part above it was ended; a line is missing.",
                where=f"{self.file}, line {at}",
            )
        self.section, self.rows, self.opened = "data", [], at

    def _end_data(self) -> None:
        conditions = conditions_from(self.header)
        self.read += _rows(self.file, self.fields, self.rows, conditions)
        self.percent |= any(f.upper().startswith("SPECTRAL_PCT") for f in self.fields)
        self.section = ""
        if len(self.read) > MOST_READINGS:
            raise UserError(
                f"More than {MOST_READINGS:,} spectra; split the file.", where=self.file
            )

    def _keyword(self, stripped: str) -> None:
        key, *rest = (a or b for a, b in _TOKEN.findall(stripped))
        if key.upper() == "KEYWORD":
            return
        self.header[key] = " ".join(rest)
        if key.upper() == "SPECTRAL_NORM":
            self.percent |= number(self.header[key]) == 100.0


def read_cgats(text: str, file: str, scale: str = "auto") -> Spectra:
    """Spectra in every table of a CGATS text; tables without spectra are passed over.

    Raises UserError, with the line, for tables cut short, rows of the wrong length, cells that
    are not numbers, or no spectrum at all. Source: ISO 28178.
    """
    reader = _Reader(file)
    for at, line in enumerate(text.splitlines(), start=1):
        reader.take(at, line)
    if reader.section:
        end = "END_DATA" if reader.section == "data" else "END_DATA_FORMAT"
        raise UserError(
            f"The file ends before {end}; it was cut short. Export it again.",
            where=f"{file}, line {reader.opened}",
        )
    if not reader.read:
        raise UserError(
            "No spectrum in this CGATS file: no SPECTRAL_NM fields with data. Export it with "
            "spectral reflectance.",
            where=file,
        )
    values = [value for row in reader.read for value in row.values]
    percent, note = is_percent(values, scale, reader.percent)
    spectra = [
        spectrum(
            row.name,
            row.wavelengths_nm,
            row.values,
            f"{file}, line {row.line}",
            percent=percent,
            conditions=row.conditions,
            columns=row.columns,
        )
        for row in reader.read
    ]
    return Spectra(tuple(spectra), (f"{file}: {note}",) if note else ())


def _cells(line: str, n: int) -> list[str]:
    """A data line as cells: by tabs where that gives the right number, else by blanks."""
    if "\t" in line:
        cells = [cell.strip().strip('"') for cell in line.strip("\r\n").split("\t")]
        if len(cells) == n:
            return cells
    return [a or b for a, b in _TOKEN.findall(line)]


def _rows(
    file: str, fields: list[str], rows: list[tuple[int, list[str]]], conditions: Conditions
) -> list[_Row]:
    """The rows of one table as spectra; none where it has no bands."""
    bands = {
        at: float(match.group(1).replace(",", "."))
        for at, name in enumerate(fields)
        if (match := _BAND.fullmatch(name))
    }
    if not bands:
        return []
    upper = [name.upper() for name in fields]
    name_at = next((upper.index(name) for name in _NAMES if name in upper), None)
    found: list[_Row] = []
    for line, cells in _whole_rows(file, len(fields), rows):
        values: list[float] = []
        for at in bands:
            value = number(cells[at])
            if value is None:
                raise UserError(
                    f"{cells[at]!r} is not a number; every band needs one.",
                    where=f"{file}, line {line}, column {fields[at]}",
                )
            values.append(value)
        name = cells[name_at] if name_at is not None else str(len(found) + 1)
        others = {fields[at]: cells[at] for at in range(len(fields)) if at not in bands}
        found.append(
            _Row(
                line=line,
                name=name,
                wavelengths_nm=list(bands.values()),
                values=values,
                columns=others,
                conditions=conditions,
            )
        )
    return found


def _whole_rows(
    file: str, n: int, rows: list[tuple[int, list[str]]]
) -> list[tuple[int, list[str]]]:
    """Rows of n cells; a data set may run over several lines (ISO 28178 lets it)."""
    whole: list[tuple[int, list[str]]] = []
    row: list[str] = []
    start = 0
    for line, cells in rows:
        if not row:
            start = line
        row += cells
        if len(row) == n:
            whole.append((start, row))
            row = []
        elif len(row) > n:
            raise UserError(
                f"{len(row)} cells where the data format has {n} fields; a name with blanks needs "
                "quotes.",
                where=f"{file}, line {line}",
            )
    if row:
        raise UserError(
            f"{len(row)} cells where the data format has {n} fields.",
            where=f"{file}, line {start}",
        )
    return whole
