"""A shop's export of what it sells: its columns recognised, what can't be read listed.

Columns are known by their headings in five languages, else by what stands in them, or as somebody
says. Rows of totals and of headings between are passed over, which is reported.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from tubewise import limits
from tubewise.errors import UserError
from tubewise.labels.phrasing import either
from tubewise.tables.cells import text_of
from tubewise.tables.grid import Grid, Row
from tubewise.tables.headers import Table, find_table, heading, refuse
from tubewise.tables.spreadsheet import read_grids
from tubewise.tubes.box_tables import no_header
from tubewise.tubes.catalogue import (
    CATALOGUE_NAMES,
    add_tube,
    is_seat_heading,
    tube_of_row,
)
from tubewise.tubes.column_guess import guessed_columns
from tubewise.tubes.columns import COLUMNS
from tubewise.tubes.tube import Tube

BY_NAME, BY_CONTENT, AS_TOLD = "by its heading", "by what stands in it", "as you said"
IGNORED = "ignored"
_NEEDED = (("name", "label"),)
_TOTAL = re.compile(
    r"^\W*(?:grand )?(?:total|totals|sum|summe|gesamt|gesamtsumme|zwischensumme|subtotal|somme|"
    r"totaux|totale|suma|totales)\b",
    re.IGNORECASE,
)
# With one of these a heading is of a number that means nothing to a painter.
_NUMBERS = frozenset(("nr", "no", "nummer", "number", "num", "numero", "id", "ean", "sku", "ref"))
# Beyond so many contradictions it is not the rows that are wrong.
_TOO_MANY = 3


@dataclass(frozen=True, slots=True, kw_only=True)
class Mapped:
    """A column of an export: its heading, ours ("" for none, then it is kept beside) and why."""

    heading: str
    column: str
    how: str

    @property
    def words(self) -> str:
        """`“Bezeichnung” is the name (by its heading)`."""
        what = f"is the {self.column}" if self.column else "is kept as it stands"
        return f"“{self.heading}” {what}" + (f" ({self.how})" if self.column else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class Export:
    """What an export holds: its tubes, how its columns were taken, and what was left out.

    `doubts` say that the file may not be whole; `passed_over` are totals, headings between rows and
    what is hidden; `left_out` the rows that can't be read, each with its place and fault.
    """

    file: str
    tubes: tuple[Tube, ...]
    mapping: tuple[Mapped, ...]
    passed_over: tuple[str, ...] = ()
    doubts: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()


def read_export(
    path: str | Path,
    chosen: Mapping[str, str] | None = None,
    *,
    remembered: Mapping[str, str] | None = None,
    lenient: bool = False,
    for_once: bool = False,
) -> Export:
    """A shop's export as tubes; `chosen` maps headings to our columns, or to "ignored".

    `remembered` is the same of exports before, whose headings need not be there. With `lenient`
    rows that can't be read are left out and listed, and a file that may be cut short is read as
    far as it goes; else UserError lists every fault and nothing is read. What is read `for_once`
    and not kept may be a file of boxes, and its doubts are only said.
    """
    name = Path(path).name
    named = _told(chosen or {})
    chosen_by_heading = {**_told(remembered or {}), **named}
    names = {**CATALOGUE_NAMES, **{h: c for h, c in chosen_by_heading.items() if c != IGNORED}}
    for unwanted in (h for h, c in chosen_by_heading.items() if c == IGNORED):
        names.pop(unwanted, None)
    mapping: dict[tuple[str, str], Mapped] = {}
    problems: list[str] = []
    passed: list[str] = []
    doubts: list[str] = []
    tubes: list[Tube] = []
    first: dict[str, tuple[str, Tube]] = {}
    tables = _tables(path, names)
    _refuse_unknown(named, tables, name)
    for table in tables:
        own, taken = _recognised(table, chosen_by_heading)
        mapping.update({(m.heading, m.column): m for m in taken})
        problems += own.problems
        for doubt in own.doubts:
            (doubts if "cut short" in doubt else passed).append(doubt)
        collisions = len(problems)
        for row in own.rows:
            if between := _between(own, row):
                passed.append(f"{own.place(row)} {between}")
                continue
            tube = tube_of_row(own, row, problems)
            if tube is not None:
                add_tube(tube, own.place(row), first, tubes, problems)
        _refuse_nameless(own, problems[collisions:], name)
    if not any(mapped.column == "name" for mapped in mapping.values()):
        passed.append("no column says what the paints are called")
    if not lenient:
        refuse(name, [*([] if for_once else doubts), *problems], "the export")
    if not tubes:
        raise UserError("The file has a header but no tubes.", where=name)
    if not for_once:
        _refuse_boxes(tubes, name)
    return Export(
        file=name,
        tubes=tuple(tubes),
        mapping=tuple(mapping.values()),
        passed_over=tuple(passed),
        doubts=tuple(doubts),
        left_out=tuple(problems),
    )


def read_stock(path: str | Path) -> list[Tube]:
    """The tubes of a shop's export. Raises UserError where any of it can't be read."""
    return list(read_export(path).tubes)


def _refuse_boxes(tubes: Sequence[Tube], file: str) -> None:
    """Raise UserError for a file that says whose each tube is."""
    whose = {key for tube in tubes for key in tube.extra if is_seat_heading(key)}
    if whose:
        raise UserError(
            f"The column {either(sorted(whose))} says whose each tube is: this seems to be a file "
            "of boxes, not what a shop sells. Bring it in as boxes (on the page Boxes, or with "
            "tubewise check --boxes), or take the column out.",
            where=file,
        )


def _told(chosen: Mapping[str, str]) -> dict[str, str]:
    """The choices by plain heading. Raises UserError for a column that is none of ours."""
    for printed, column in chosen.items():
        if column not in (*COLUMNS, IGNORED):
            raise UserError(
                f"“{column}” is no column; write {either((*COLUMNS, IGNORED))}",
                where=f"“{printed}={column}”",
            )
    return {heading(printed): column for printed, column in chosen.items()}


def _refuse_unknown(
    chosen_by_heading: Mapping[str, str], tables: Sequence[Table], file: str
) -> None:
    there = {heading(text_of(cell)) for table in tables for cell in table.header.cells}
    for printed in chosen_by_heading:
        if printed not in there:
            known = [text_of(c) for table in tables for c in table.header.cells if text_of(c)]
            raise UserError(
                f"No column is called “{printed}”; the columns are {', '.join(known)}", where=file
            )


def _tables(path: str | Path, names: Mapping[str, str]) -> list[Table]:
    grids = read_grids(path, frozenset(names))
    found = [find_table(grid, names, _NEEDED) for grid in grids]
    tables = [table for table in found if table is not None]
    if tables:
        return tables
    guessed = [table for table in map(_headed, grids) if table is not None]
    guessed = [t for t in guessed if {"name", "label"} & set(_guessed(t))]
    if not guessed:
        raise no_header(Path(path).name, _NEEDED)
    return guessed


def _headed(grid: Grid) -> Table | None:
    """A sheet whose first row of nothing but words is taken for its header."""
    for at, row in enumerate(grid.rows[: limits.HEADER_WITHIN]):
        texts = [text_of(cell) for cell in row.cells]
        words = all(text and not text[0].isdigit() for text in texts)
        if len(texts) > 1 and words and len(set(texts)) == len(texts):
            return find_table(replace(grid, rows=grid.rows[at:]), {}, ())
    return None


def _guessed(table: Table) -> dict[str, int]:
    rows = [row for row in table.rows if not _between(table, row)]
    return guessed_columns(rows, table.columns, table.others)


def _recognised(table: Table, chosen_by_heading: Mapping[str, str]) -> tuple[Table, list[Mapped]]:
    """The table with columns found by content too, and how each was taken."""
    table = _by_their_words(table)
    named = {at: name for name, at in table.others.items()}
    ignored = {name for name in table.others if chosen_by_heading.get(heading(name)) == IGNORED}
    found = {c: at for c, at in _guessed(table).items() if named[at] not in ignored}
    taken = [
        Mapped(
            heading=text_of(table.header.cells[at]),
            column=column,
            how=AS_TOLD
            if heading(text_of(table.header.cells[at])) in chosen_by_heading
            else BY_NAME,
        )
        for column, at in table.columns.items()
    ]
    taken += [Mapped(heading=named[at], column=c, how=BY_CONTENT) for c, at in found.items()]
    others = {
        name: at
        for name, at in table.others.items()
        if at not in found.values() and name not in ignored
    }
    taken += [Mapped(heading=name, column="", how="") for name in others]
    return replace(table, columns={**table.columns, **found}, others=others), taken


def _by_their_words(table: Table) -> Table:
    """The table with columns known by the words of their headings: `Nome colore` is a name.

    Only where all known words of a heading mean one column, and no other heading is it.
    """
    found: dict[str, int] = {}
    for name, at in table.others.items():
        words = heading(name).split()
        meant = {CATALOGUE_NAMES[word] for word in words if word in CATALOGUE_NAMES}
        if len(words) < 2 or len(meant) != 1 or _NUMBERS & set(words):
            continue
        (column,) = meant
        if column not in table.columns:
            found.setdefault(column, at)
    others = {name: at for name, at in table.others.items() if at not in found.values()}
    return replace(table, columns={**table.columns, **found}, others=others)


def _between(table: Table, row: Row) -> str:
    """Why a row is no tube's: a total, or a heading between the rows; "" where it is one."""
    filled = [text_of(cell) for cell in row.cells if cell != ""]
    if filled and _TOTAL.match(filled[0]):
        return f"holds a total (“{filled[0]}”)"
    if len(filled) == 1 and len(table.header.cells) > 3 and not filled[0][:1].isdigit():
        at = next(n for n, cell in enumerate(row.cells) if cell != "")
        if at not in (table.columns.get("name"), table.columns.get("label")) or at == 0:
            return f"holds nothing but “{filled[0][:40]}”"
    return ""


def _refuse_nameless(table: Table, problems: Iterable[str], file: str) -> None:
    """Where no column is the name, tubes contradict each other by the dozen: say that once."""
    riddles = [problem for problem in problems if " contradicts " in problem]
    if "name" in table.columns or len(riddles) <= _TOO_MANY:
        return
    others = [name for name in table.others if not is_seat_heading(name)]
    raise UserError(
        "No column says what the paints are called, so that many rows seem to be one tube. The "
        f"columns we don't know are {', '.join(others) or 'none'}; say which is the name, as in "
        f'--map "{others[0] if others else "Heading"}=name".',
        where=file,
    )


def headings_of(path: str | Path) -> tuple[str, ...]:
    """The headings of a file, for somebody to say which is which; none where it can't be read."""
    try:
        tables = _tables(path, dict(CATALOGUE_NAMES))
    except UserError:
        return ()
    cells = (text_of(cell) for table in tables for cell in table.header.cells)
    return tuple(dict.fromkeys(text for text in cells if text))
