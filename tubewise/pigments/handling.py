"""How pigments handle: drying and film in oil, staining, granulation and lifting in washes.

The facts stand in data/handling.csv for some sixty codes, each row with its source; of the others
nothing is known here. What a binder does as it dries stands in data/drying_shift.csv.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Literal, get_args

from tubewise.errors import UserError
from tubewise.pigments import density
from tubewise.pigments.binders import binder_named, binders
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.tables import Faults, Row, read_rows
from tubewise.pigments.terms import OPACITIES

NOT_KNOWN = "not known"
# Each from the one that decides least to the one that decides a mixture: the slowest dries last,
# what stains stains, one granulating pigment is seen.
SCALES: Mapping[str, tuple[str, ...]] = {
    "drying": ("fast", "medium", "slow"),
    "film": ("tough", "soft", "brittle"),
    "staining": ("low", "medium", "staining"),
    "granulation": ("smooth", "slight", "granulating"),
    "lifting": ("easy", "partly", "hard"),
    "wash": OPACITIES,
    "covering": ("weak", "medium", "strong"),
}
# What a person may wish of a paint's handling.
Wish = Literal["granulating", "non-staining", "staining", "fast-drying", "transparent", "opaque"]
WISHES: tuple[Wish, ...] = get_args(Wish)
SHIFTS = ("darker", "lighter", "both ways", "none", NOT_KNOWN)
# Grams of linseed oil that 100 g of pigment take up, below which it takes little, above which much.
LITTLE_OIL, MUCH_OIL = 22.0, 45.0

_DATA = Path(__file__).parent / "data"


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """How a pigment handles, each as in `SCALES` or "not known".

    `drying` and `film` in oil; `staining`, `granulation`, `lifting` and `wash` (how much it lets
    through) in watercolour; `covering` at full strength; `source` is "" where nothing is known.
    """

    drying: str = NOT_KNOWN
    film: str = NOT_KNOWN
    staining: str = NOT_KNOWN
    granulation: str = NOT_KNOWN
    lifting: str = NOT_KNOWN
    wash: str = NOT_KNOWN
    covering: str = NOT_KNOWN
    source: str = ""


UNKNOWN = Handling()


@dataclass(frozen=True, slots=True, kw_only=True)
class DryingShift:
    """What a binder does as it dries: how soon it is touch dry, `shift` in lightness, in words."""

    touch_dry: str
    shift: str
    text: str
    source: str


def handling(ref: str) -> Handling:
    """How a pigment handles: of its form if the file has it, else its code, else without suffix."""
    pigment_ref = Ref(ref)
    for key in (pigment_ref, pigment_ref.code, pigment_ref.base):
        if key in _table():
            return _table()[key]
    return UNKNOWN


def together(refs: Iterable[str]) -> Handling:
    """How a mixture handles: the slowest, most staining, most granulating, weakest film decide.

    "not known" of whatever is not known of every pigment, unless one known already decides; the
    wash lets through, and the mixture covers, as its most opaque pigment does.
    """
    parts = [handling(ref) for ref in refs]
    found: dict[str, str] = {}
    for name, scale in SCALES.items():
        values = [str(getattr(part, name)) for part in parts]
        known = [value for value in values if value != NOT_KNOWN]
        worst = max(known, key=scale.index, default=NOT_KNOWN)
        found[name] = worst if len(known) == len(values) or worst == scale[-1] else NOT_KNOWN
    source = "; ".join(dict.fromkeys(part.source for part in parts if part.source))
    return Handling(source=source, **found)


def oil_absorption(ref: str) -> str:
    """How much oil a pigment takes up: little, some or much, by data/densities.csv."""
    grams = density.weights(ref).oil_absorption
    return "little" if grams < LITTLE_OIL else "much" if grams > MUCH_OIL else "some"


def drying_shift(binder: str) -> DryingShift | None:
    """What a binder, by any of its names, does as it dries; None for a blank.

    Raises ValueError for a binder nobody knows.
    """
    name = binder_named(binder)
    return _shifts()[name] if name else None


def _filled(row: Row, faults: Faults, *columns: str) -> None:
    for column in columns:
        if not row[column]:
            faults.add(row, column, "must not be empty")


def read_handling(path: Path) -> dict[str, Handling]:
    """The facts of a file by code or `code/form`. Raises UserError for each fault."""
    faults = Faults(path.name)
    table: dict[str, Handling] = {}
    for row in read_rows(path, ("code", *SCALES, "source")):
        try:
            load().resolve(row["code"])
        except UserError as error:
            faults.add(row, "code", error.message)
        if row["code"] in table:
            faults.add(row, "code", "stands twice")
        for column, scale in SCALES.items():
            if row[column] not in (*scale, NOT_KNOWN):
                faults.add(row, column, f"must be one of {', '.join(scale)}, {NOT_KNOWN}")
        _filled(row, faults, "source")
        facts = {column: row[column] for column in SCALES}
        table[row["code"]] = Handling(source=row["source"], **facts)
    faults.raise_if_any()
    return table


def read_shifts(path: Path) -> dict[str, DryingShift]:
    """What binders do as they dry, by name. Raises UserError for each fault."""
    faults = Faults(path.name)
    table: dict[str, DryingShift] = {}
    for row in read_rows(path, ("binder", "touch_dry", "shift", "text", "source")):
        if row["binder"] not in binders():
            faults.add(row, "binder", "is not in binders.csv")
        if row["shift"] not in SHIFTS:
            faults.add(row, "shift", f"must be one of {', '.join(SHIFTS)}")
        _filled(row, faults, "touch_dry", "text", "source")
        table[row["binder"]] = DryingShift(
            touch_dry=row["touch_dry"], shift=row["shift"], text=row["text"], source=row["source"]
        )
    missing = [name for name in binders() if name not in table]
    if missing:
        faults.problems.append(f"nothing is said of {', '.join(missing)}")
    faults.raise_if_any()
    return table


@lru_cache(maxsize=1)
def _table() -> dict[str, Handling]:
    return read_handling(_DATA / "handling.csv")


@lru_cache(maxsize=1)
def _shifts() -> dict[str, DryingShift]:
    return read_shifts(_DATA / "drying_shift.csv")


def wish_named(text: str) -> Wish:
    """The wish that a word means: `Non staining`. Raises ValueError for any other."""
    key = "-".join(text.casefold().replace("-", " ").split())
    for wish in WISHES:
        if wish == key:
            return wish
    raise ValueError(
        f"“{text.strip()}” is nothing we know of handling; write {', '.join(WISHES[:-1])} "
        f"or {WISHES[-1]}"
    )
