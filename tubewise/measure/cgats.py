"""Spectra from CGATS text files (ISO 28178, ANSI CGATS.17)."""

from __future__ import annotations

import re

from tubewise.errors import UserError
from tubewise.measure.readings import (
    MOST_READINGS,
    Conditions,
    Reading,
    Readings,
    conditions_from,
    is_percent,
    number,
    reading,
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


def read_cgats(text: str, file: str, scale: str = "auto") -> Readings:
    """Spectra in every table of a CGATS text; tables without spectra are passed over.

    Raises UserError, with the line, for tables cut short, rows of the wrong length, cells that
    are not numbers, or no spectrum at all. Source: ISO 28178.
    """
    header: dict[str, str] = {}
    fields: list[str] = []
    rows: list[tuple[int, list[str]]] = []
    raw: list[tuple[int, str, list[float], list[float], dict[str, str], Conditions]] = []
    percent_header = False
    section = ""
    opened = 0
    for at, line in enumerate(text.splitlines(), start=1):
        stripped = line.strip()
        if section != "data" and stripped.startswith("#"):
            continue
        word = stripped.upper()
        if word == "BEGIN_DATA_FORMAT":
            section, fields, opened = "format", [], at
        elif word == "END_DATA_FORMAT":
            section = ""
        elif word == "BEGIN_DATA":
            if section:
                raise UserError(
                    "BEGIN_DATA before the part above it was ended; a line is missing.",
                    where=f"{file}, line {at}",
                )
            section, rows, opened = "data", [], at
        elif word == "END_DATA":
            raw += _table(file, fields, rows, conditions_from(header))
            percent_header |= any(f.upper().startswith("SPECTRAL_PCT") for f in fields)
            section = ""
            if len(raw) > MOST_READINGS:
                raise UserError(f"More than {MOST_READINGS:,} spectra; split the file.", where=file)
        elif section == "format":
            fields += [a or b for a, b in _TOKEN.findall(stripped)]
        elif section == "data":
            if stripped:
                rows.append((at, _cells(line, len(fields))))
        elif stripped:
            tokens = [a or b for a, b in _TOKEN.findall(stripped)]
            key, rest = tokens[0], tokens[1:]
            if key.upper() == "KEYWORD":
                continue
            header[key] = " ".join(rest)
            if key.upper() == "SPECTRAL_NORM":
                percent_header |= number(header[key]) == 100.0
    if section:
        end = "END_DATA" if section == "data" else "END_DATA_FORMAT"
        raise UserError(
            f"The file ends before {end}; it was cut short. Export it again.",
            where=f"{file}, line {opened}",
        )
    if not raw:
        raise UserError(
            "No spectrum in this CGATS file: no SPECTRAL_NM fields with data. Export it with "
            "spectral reflectance.",
            where=file,
        )
    percent, note = is_percent([v for row in raw for v in row[3]], scale, percent_header)
    found: list[Reading] = [
        reading(
            name,
            wavelengths,
            values,
            f"{file}, line {at}",
            percent=percent,
            conditions=conditions,
            columns=columns,
        )
        for at, name, wavelengths, values, columns, conditions in raw
    ]
    return Readings(tuple(found), (f"{file}: {note}",) if note else ())


def _cells(line: str, n: int) -> list[str]:
    """A data line as cells: by tabs where that gives the right number, else by blanks."""
    if "\t" in line:
        cells = [cell.strip().strip('"') for cell in line.strip("\r\n").split("\t")]
        if len(cells) == n:
            return cells
    return [a or b for a, b in _TOKEN.findall(line)]


def _table(
    file: str, fields: list[str], rows: list[tuple[int, list[str]]], conditions: Conditions
) -> list[tuple[int, str, list[float], list[float], dict[str, str], Conditions]]:
    bands = {
        at: float(match.group(1).replace(",", "."))
        for at, name in enumerate(fields)
        if (match := _BAND.fullmatch(name))
    }
    if not bands:
        return []
    upper = [name.upper() for name in fields]
    name_at = next((upper.index(name) for name in _NAMES if name in upper), None)
    out: list[tuple[int, str, list[float], list[float], dict[str, str], Conditions]] = []
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
        name = cells[name_at] if name_at is not None else str(len(out) + 1)
        others = {fields[at]: cells[at] for at in range(len(fields)) if at not in bands}
        out.append((line, name, list(bands.values()), values, others, conditions))
    return out


def _whole_rows(
    file: str, n: int, rows: list[tuple[int, list[str]]]
) -> list[tuple[int, list[str]]]:
    """Rows of n cells; a data set may run over several lines (ISO 28178 lets it)."""
    whole: list[tuple[int, list[str]]] = []
    held: list[str] = []
    start = 0
    for line, cells in rows:
        if not held:
            start = line
        held += cells
        if len(held) == n:
            whole.append((start, held))
            held = []
        elif len(held) > n:
            raise UserError(
                f"{len(held)} cells where the data format has {n} fields; a name with blanks needs "
                "quotes.",
                where=f"{file}, line {line}",
            )
    if held:
        raise UserError(
            f"{len(held)} cells where the data format has {n} fields.",
            where=f"{file}, line {start}",
        )
    return whole
