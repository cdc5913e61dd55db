"""The file that says which reading is which drawdown: `drawdowns.csv`, or a sheet of a workbook.

Columns: sample, kind, parts, white_parts, by, ground, thickness_um, density, white_density, file.
Only `sample` is needed; the rest is read from the sample's name where the cell is empty.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from importlib import resources
from pathlib import Path

from tubewise.errors import UserError
from tubewise.measure.sample_names import GROUNDS, KINDS, MASSTONE, TINT, Role, role_from_name
from tubewise.measure.spectra import number

COLUMNS = (
    "sample",
    "kind",
    "parts",
    "white_parts",
    "by",
    "ground",
    "thickness_um",
    "density",
    "white_density",
    "file",
)
_KNOWN = {column.replace("_", " "): column for column in COLUMNS}
_KNOWN |= {
    "name": "sample",
    "sample name": "sample",
    "parts paint": "parts",
    "white": "white_parts",
}
_KNOWN |= {"parts white": "white_parts", "thickness": "thickness_um", "paint density": "density"}


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of a manifest: what `sample` is; densities in g/ml, None when not told."""

    sample: str
    role: Role
    density: float | None = None
    white_density: float | None = None
    file: str = ""
    where: str = ""


def read_manifest(path: str | Path) -> tuple[Entry, ...]:
    """The entries of a manifest, CSV or XLSX. Raises UserError naming every wrong row."""
    from tubewise.tables.cells import text_of
    from tubewise.tables.headers import heading, refuse
    from tubewise.tables.spreadsheet import read_grids

    path = Path(path)
    grid = read_grids(path, frozenset(_KNOWN))[0]
    titles = [heading(text_of(cell)) for cell in grid.rows[0].cells]
    columns = {_KNOWN[t]: at for at, t in reversed(list(enumerate(titles))) if t in _KNOWN}
    if "sample" not in columns:
        raise UserError(
            f"No column `sample`; the first row must name the columns: {', '.join(COLUMNS)}.",
            where=path.name,
        )
    entries: list[Entry] = []
    problems: list[str] = []
    for row in grid.rows[1:]:
        cells = {
            name: text_of(row.cells[at]).strip() if at < len(row.cells) else ""
            for name, at in columns.items()
        }
        place = f"row {row.number}"
        try:
            entry = entry_from(cells, f"{path.name}, {place}")
        except UserError as error:
            problems.append(f"{place}: {error.message}")
            continue
        if entry is not None:
            entries.append(entry)
    refuse(path.name, problems, "the list of drawdowns")
    if not entries:
        raise UserError("The list of drawdowns has no lines under its header.", where=path.name)
    return tuple(entries)


def entry_from(cells: Mapping[str, str], where: str) -> Entry | None:
    """An entry from a line's cells by column name; None for a line without a sample."""
    sample = cells.get("sample", "")
    if not sample:
        return None
    role = role_from_name(sample) or Role("")
    white_parts = _positive(cells, "white_parts", role.white_parts, zero=True)
    parts = _positive(cells, "parts", role.parts)
    kind = (
        cells.get("kind", "").casefold() or role.kind or (TINT if white_parts > 0.0 else MASSTONE)
    )
    if kind not in KINDS:
        raise UserError(f"column kind: {kind!r} is none of {', '.join(KINDS)}.", where=where)
    if kind == TINT and white_parts <= 0.0:
        raise UserError("column white_parts: a tint needs its parts of white.", where=where)
    if kind != TINT and white_parts > 0.0:
        raise UserError(f"column white_parts: a {kind} has no white mixed in.", where=where)
    by = cells.get("by", "").casefold() or role.by
    if by not in ("volume", "weight"):
        raise UserError(f"column by: {by!r} is neither volume nor weight.", where=where)
    ground = cells.get("ground", "").casefold() or role.ground
    if ground not in GROUNDS or (kind == "card" and ground == "opaque"):
        raise UserError(f"column ground: {ground!r} is none of {', '.join(GROUNDS)}.", where=where)
    thickness = _positive(cells, "thickness_um", role.thickness_um or 0.0, zero=True) or None
    return Entry(
        sample,
        Role(kind, parts, white_parts, by, ground, thickness),
        _positive(cells, "density", 0.0, zero=True) or None,
        _positive(cells, "white_density", 0.0, zero=True) or None,
        cells.get("file", ""),
        where,
    )


def entries_from_columns(rows: Iterable[tuple[Mapping[str, str], str, str]]) -> tuple[Entry, ...]:
    """Entries from columns that stand beside the spectra: (columns, sample, where) each.

    Spectra whose columns and name tell nothing are left out.
    """
    from tubewise.tables.headers import heading

    entries: list[Entry] = []
    for columns, sample, where in rows:
        cells = {_KNOWN[h]: v for k, v in columns.items() if (h := heading(k)) in _KNOWN}
        cells["sample"] = sample
        if not cells.get("kind") and not cells.get("white_parts") and not role_from_name(sample):
            continue
        entry = entry_from(cells, where)
        if entry is not None:
            entries.append(entry)
    return tuple(entries)


def template() -> str:
    """A manifest to fill in, as CSV text."""
    return (
        resources.files("tubewise.measure")
        .joinpath("templates", "drawdowns.csv")
        .read_text(encoding="utf-8")
    )


def _positive(cells: Mapping[str, str], column: str, default: float, zero: bool = False) -> float:
    text = cells.get(column, "")
    if not text:
        return default
    value = number(text)
    if value is None or value < 0.0 or (value == 0.0 and not zero) or value > 1e6:
        raise UserError(f"column {column}: {text!r} is not a usable number.")
    return value
