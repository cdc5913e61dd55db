"""Supply lists: what a workshop asks for, and the mixes its lesson depends on."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TypeVar

from tubewise import labels
from tubewise.errors import UserError
from tubewise.pigments.handling import Wish, wish_named
from tubewise.pigments.purpose import Purpose, purpose_named
from tubewise.pigments.ref import Ref
from tubewise.tables.cells import Cell
from tubewise.tables.grid import Row
from tubewise.tables.headers import Table, find_table, heading, refuse
from tubewise.tables.spreadsheet import read_grids, write_tables
from tubewise.tubes import fields
from tubewise.tubes.occasion import NO_OCCASION, Occasion, occasion_above, with_occasion
from tubewise.tubes.parts_written import part_of, pieces_of

SLOT_COLUMNS = ("slot", "accept", "medium", "min_ml", "note")
MIX_COLUMNS = ("mix", "parts", "aim")

_SLOT_NAMES = {
    word: column
    for column, words in {
        "slot": "slot|item|paint|place|platz|farbe|article|articulo|voce",
        "accept": "accept|accepts|accepted|accepted pigments|pigment|pigments|pigmente|pigmentos"
        "|pigmenti|pigmenten",
        "medium": "medium|technique|technik|tecnica|techniek",
        "min_ml": "min ml|minimum ml|min size|minimum size|smallest size|size ml|size|mindestinhalt"
        "|contenance minimale",
        "note": "note|notes|remark|remarks|comment|hinweis|bemerkung|remarque|nota",
    }.items()
    for word in words.split("|")
}
_MIX_NAMES = {
    word: column
    for column, words in {
        "mix": "mix|key mix|mixture|mischung|melange|mezcla|miscela|mengsel",
        "parts": "parts|recipe|teile|parties|partes|parti|delen",
        "aim": "aim|goal|for|purpose|ziel|but|objetivo|scopo|doel",
    }.items()
    for word in words.split("|")
}
# The column that says what a slot's paint is for; it is kept with the columns we do not read.
_PURPOSE_NAMES = frozenset(("for", "purpose", "zweck", "fur", "pour", "usage", "uso", "para"))
# The column that says how a slot's paint must handle: `granulating, non-staining`.
_HANDLING_NAMES = frozenset(("handling", "handles", "character"))
MAX_PARTS = 999


_WATER_WORDS = "water|wasser|eau|agua|acqua"
_WATER = re.compile(
    rf"(?:{_WATER_WORDS})(?:\s*[=x×]\s*|\s+)(?P<after>\d+)"
    rf"|(?P<before>\d+)(?:\s*[x×]\s*|\s+)(?:{_WATER_WORDS})",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Slot:
    """One thing the list asks for.

    `accept` holds alternatives, each a set of pigment refs that must all be in the tube; `medium`
    may be empty; `min_ml` is 0 when any size will do. What the paint is for stands in a further
    column, `for`, how it must handle in another, `handling`.
    """

    slot: str
    accept: tuple[frozenset[Ref], ...]
    medium: str = ""
    min_ml: float = 0.0
    note: str = ""
    extra: Mapping[str, str] = field(default_factory=dict, hash=False)

    def __post_init__(self) -> None:
        # Who writes a list in Python may write refs as plain text.
        sets = tuple(frozenset(map(Ref, refs)) for refs in self.accept)
        object.__setattr__(self, "accept", sets)

    @property
    def purpose(self) -> Purpose | None:
        """What the paint is for, where the list says it; ValueError for an unknown purpose."""
        cells = [text for name, text in self.extra.items() if heading(name) in _PURPOSE_NAMES]
        return purpose_named(cells[0]) if cells else None

    @property
    def handling(self) -> tuple[Wish, ...]:
        """How the paint must handle, each wish once; ValueError for what is no wish."""
        cells = (text for name, text in self.extra.items() if heading(name) in _HANDLING_NAMES)
        words = (word.strip() for cell in cells for word in re.split(r"[,;+|]", cell))
        return tuple(dict.fromkeys(map(wish_named, filter(None, words))))


@dataclass(frozen=True, slots=True)
class KeyMix:
    """A mix the lesson depends on: pigment refs with whole parts by volume, its aim in words.

    `water` is the parts of water where the mix names them, in watercolour; else 0.
    """

    mix: str
    parts: tuple[tuple[Ref, int], ...]
    aim: str = ""
    extra: Mapping[str, str] = field(default_factory=dict, hash=False)
    water: int = 0

    def __post_init__(self) -> None:
        object.__setattr__(self, "parts", tuple((Ref(ref), part) for ref, part in self.parts))

    @property
    def parts_words(self) -> str:
        """`2 PB29 + 1 PBr7/burnt-sienna + 18 water`."""
        water = [f"{self.water} water"] if self.water else []
        return " + ".join([*(f"{part:g} {ref}" for ref, part in self.parts), *water])


@dataclass(frozen=True, slots=True)
class SupplyList:
    """What a workshop asks for; `occasion` is when and where, as far as anybody says."""

    name: str
    slots: tuple[Slot, ...]
    mixes: tuple[KeyMix, ...] = ()
    occasion: Occasion = NO_OCCASION


# ---------------------------------------------------------------- the small grammars


def read_ref(text: str) -> Ref:
    """A pigment ref in its proper writing: `pbk 9` is `PBk9`, `pv19/Gamma` is `PV19/gamma`.

    Without a form where none is said: any form is welcome then. Raises ValueError where it is no
    ref, or the register does not list it.
    """
    try:
        return labels.typed_ref(text)
    except UserError as error:
        raise ValueError(error.message) from None


def read_accept(text: str) -> tuple[frozenset[Ref], ...]:
    """Alternatives by `|`, each a set of pigment refs by `+`: `PV19/gamma | PY3 + PG7`."""
    sets: list[frozenset[Ref]] = []
    for alternative in re.split(r"\||\n|\s+or\s+", text):
        if not alternative.strip():
            raise ValueError("an alternative is empty; write pigments such as PV19/gamma | PR122")
        refs = frozenset(read_ref(part) for part in alternative.split("+"))
        if refs not in sets:
            sets.append(refs)
    return tuple(sets)


def read_parts(text: str) -> tuple[tuple[Ref, int], ...]:
    """Pigment refs with whole parts: `PV19/gamma 1 + PB29 1 + PW6 4`."""
    parts: list[tuple[Ref, int]] = []
    whole = not text.rstrip().endswith("+")
    for term in (pieces_of(text) if whole else []) or [text]:
        found = _term(term.strip())
        if found is None:
            raise ValueError(
                f"“{term.strip()}” is no pigment with its parts; write them as PV19/gamma 1 + PW6 4"
            )
        if found[0] in (ref for ref, _ in parts):
            raise ValueError(f"{found[0]} stands in it twice; add its parts together")
        parts.append(found)
    return tuple(parts)


def read_mixture(text: str) -> tuple[tuple[tuple[Ref, int], ...], int]:
    """The parts of a mix and its parts of water: `PB29 2 + PBr7 1 + water 18`, 0 where none."""
    water, paints = 0, []
    for term in pieces_of(text) or [text]:
        match = _WATER.fullmatch(term.strip())
        if match is None:
            paints.append(term)
            continue
        count = int((match["after"] or match["before"])[:9])
        if water or not 1 <= count <= MAX_PARTS:
            raise ValueError(
                f"“{term.strip()}”: write the water once, 1 to {MAX_PARTS} parts of it"
            )
        water = count
    return read_parts("+".join(paints)), water


def _term(term: str) -> tuple[Ref, int] | None:
    """A ref and its parts, either way round, or None where no parts are said."""
    try:
        written = part_of(term)
    except UserError as error:
        raise ValueError(f"“{term}”: {error.message}") from None
    if not written.given:
        return None
    ref = read_ref(written.term)
    if written.parts != int(written.parts) or not 1 <= written.parts <= MAX_PARTS:
        raise ValueError(
            f"“{term}” asks for {written.parts:g} parts; write whole ones, 1 to {MAX_PARTS}"
        )
    return ref, int(written.parts)


def accept_text(accept: Iterable[frozenset[Ref]]) -> str:
    """The `accept` cell of alternatives; sets have no order, so refs are sorted."""
    return " | ".join(" + ".join(sorted(refs)) for refs in accept)


def parts_text(parts: Iterable[tuple[Ref, int]], water: int = 0) -> str:
    """The `parts` cell of a mix."""
    thinned = [f"water {water}"] if water else []
    return " + ".join([*(f"{ref} {count}" for ref, count in parts), *thinned])


# ---------------------------------------------------------------- files


def mixes_path(path: str | Path) -> Path:
    """Where the mixes of a CSV list stand: NAME-mixes.csv beside NAME.csv."""
    path = Path(path)
    return path.with_name(f"{path.stem}-mixes{path.suffix}")


def read_supply_list(path: str | Path, mixes: str | Path | None = None) -> SupplyList:
    """A supply list from XLSX (both sheets found by their headers) or CSV (two files).

    Of CSV files, `mixes` defaults to NAME-mixes.csv beside NAME.csv, if it is there. Raises
    UserError that lists every problem by row and column.
    """
    path = Path(path)
    grids = list(read_grids(path, frozenset(_SLOT_NAMES)))
    if mixes is None and grids[0].sheet == "" and mixes_path(path).is_file():
        mixes = mixes_path(path)
    others = list(read_grids(mixes, frozenset(_MIX_NAMES))) if mixes is not None else grids
    slot_tables = [t for g in grids if (t := find_table(g, _SLOT_NAMES, (("slot",), ("accept",))))]
    mix_tables = [t for g in others if (t := find_table(g, _MIX_NAMES, (("mix",), ("parts",))))]
    if not slot_tables:
        raise UserError(
            f"No header row with the columns slot and accept. The columns are: "
            f"{', '.join(SLOT_COLUMNS)}.",
            where=path.name,
        )
    if mixes is not None and not mix_tables:
        raise UserError(
            f"No header row with the columns mix and parts. The columns are: "
            f"{', '.join(MIX_COLUMNS)}.",
            where=Path(mixes).name,
        )
    if mixes is not None:
        mix_tables = [replace(table, one_of_several=True) for table in mix_tables]
    problems: list[str] = []
    slots = _rows(slot_tables, _slot, problems)
    key_mixes = _rows(mix_tables, _mix, problems)
    refuse(path.name, problems, "the supply list")
    if not slots:
        raise UserError("The supply list has a header but no slots.", where=path.name)
    where = slot_tables[0]
    grid = next(g for g in grids if g.sheet == where.sheet)
    above = occasion_above(row for row in grid.rows if row.number < where.header.number)
    return SupplyList(path.stem, tuple(slots), tuple(key_mixes), above)


_E = TypeVar("_E", Slot, KeyMix)


def _rows(
    tables: Iterable[Table],
    read: Callable[[Table, Row, list[str]], tuple[str, _E] | None],
    problems: list[str],
) -> list[_E]:
    found: dict[str, tuple[str, _E]] = {}
    for table in tables:
        problems += table.problems
        for row in table.rows:
            named = read(table, row, problems)
            if named is None:
                continue
            key = heading(named[0]) or named[0]
            if key not in found:
                found[key] = (table.place(row), named[1])
            elif found[key][1] != named[1]:
                problems.append(
                    f"{table.place(row)} contradicts {found[key][0]}: both are called "
                    f"“{named[0]}”; rename or remove one"
                )
    return [entry for _, entry in found.values()]


def _needed(table: Table, row: Row, columns: Iterable[str], problems: list[str]) -> None:
    for column in columns:
        if table.cell(row, column) == "":
            problems.append(f"{table.place(row, column)}: is blank; fill it in")


def _slot(table: Table, row: Row, problems: list[str]) -> tuple[str, Slot] | None:
    before = len(problems)
    _needed(table, row, ("slot", "accept"), problems)
    no_size: float | None = None
    no_sets: tuple[frozenset[Ref], ...] = ()
    slot = Slot(
        slot=table.value(row, "slot", fields.read_name, "", problems),
        accept=table.value(
            row, "accept", lambda c: read_accept(fields.read_codes(c)), no_sets, problems
        ),
        medium=table.value(row, "medium", fields.read_medium, "", problems),
        min_ml=table.value(row, "min_ml", _read_smallest, no_size, problems) or 0.0,
        note=table.value(row, "note", fields.read_text, "", problems),
        extra=table.extra(row),
    )
    try:
        _ = slot.purpose
    except ValueError as error:
        problems.append(f"{table.place(row, 'for')}: {error}")
    try:
        _ = slot.handling
    except ValueError as error:
        problems.append(f"{table.place(row, 'handling')}: {error}")
    return None if len(problems) > before else (slot.slot, slot)


def _read_smallest(cell: Cell) -> float | None:
    return None if cell in (0.0, "0") else fields.read_size(cell)


def _mix(table: Table, row: Row, problems: list[str]) -> tuple[str, KeyMix] | None:
    before = len(problems)
    _needed(table, row, ("mix", "parts"), problems)
    nothing: tuple[tuple[tuple[Ref, int], ...], int] = ((), 0)
    parts, water = table.value(
        row, "parts", lambda c: read_mixture(fields.read_codes(c)), nothing, problems
    )
    mix = KeyMix(
        mix=table.value(row, "mix", fields.read_name, "", problems),
        parts=parts,
        aim=table.value(row, "aim", fields.read_text, "", problems),
        extra=table.extra(row),
        water=water,
    )
    return None if len(problems) > before else (mix.mix, mix)


def write_supply_list(path: str | Path, supply: SupplyList) -> None:
    """Write a supply list: one XLSX workbook, or NAME.csv with NAME-mixes.csv beside it."""
    path = Path(path)
    slot_extras = list(dict.fromkeys(key for slot in supply.slots for key in slot.extra))
    mix_extras = list(dict.fromkeys(key for mix in supply.mixes for key in mix.extra))
    slots: list[list[Cell]] = [
        [
            slot.slot,
            accept_text(slot.accept),
            slot.medium,
            float(slot.min_ml) if slot.min_ml else "",
            slot.note,
            *(slot.extra.get(key, "") for key in slot_extras),
        ]
        for slot in supply.slots
    ]
    mixes: list[list[Cell]] = [
        [
            mix.mix,
            parts_text(mix.parts, mix.water),
            mix.aim,
            *(mix.extra.get(key, "") for key in mix_extras),
        ]
        for mix in supply.mixes
    ]
    first, others = with_occasion(supply.occasion, [*SLOT_COLUMNS, *slot_extras], slots)
    slot_table = ("slots", first, others)
    mix_table = ("mixes", [*MIX_COLUMNS, *mix_extras], mixes)
    if path.suffix.lower() == ".xlsx":
        write_tables(path, [slot_table, mix_table])
        return
    write_tables(path, [slot_table])
    write_tables(mixes_path(path), [mix_table])
