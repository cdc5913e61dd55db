"""Tubes found by what a person at the counter asks for."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tubewise.colour.lab import lch_from_lab
from tubewise.colour.words import hue_family
from tubewise.pigments.permanence import FUGITIVE, lasting, lightfastness
from tubewise.pigments.register import load
from tubewise.tubes.supply import read_ref
from tubewise.tubes.tube import Tube
from tubewise.web.holdings import Holdings
from tubewise.web.questions import TubeSearch

HUES = ("yellow", "orange", "red", "violet", "blue", "green", "brown", "black", "white", "grey")
PERMANENCES = {
    "lasting": "lasting (I or II)",
    "I": "excellent (I)",
    "fading": "fades (III or worse, or fugitive)",
    "not rated": "not rated",
}
PER_PAGE = 24
_EVERY = 1_000_000
_FAMILIES = {
    "magenta": ("red", "violet"),
    "yellow-green": ("green", "yellow"),
    "blue-green": ("blue", "green"),
}


@dataclass(frozen=True, slots=True)
class FoundTubes:
    """One page of what was found, of `total`; `note` says what could not be understood."""

    tubes: tuple[Tube, ...]
    total: int
    note: str = ""


def find(
    held: Holdings,
    search: TubeSearch,
    at_most: float | None = None,
    offset: int = 0,
    limit: int = PER_PAGE,
) -> FoundTubes:
    """The tubes that meet all that is asked; `at_most` is a price in whatever currency."""
    key = ("find", search, at_most)
    found, note = held.remember(key, lambda: _found(held, search, at_most))
    return FoundTubes(found[offset : offset + limit], len(found), note)


def _found(
    held: Holdings, search: TubeSearch, at_most: float | None
) -> tuple[tuple[Tube, ...], str]:
    codes: list[str] = [""]
    if search.code.strip():
        try:
            found = read_ref(search.code)
        except ValueError as error:
            return (), str(error)
        # Asked for PB15, a shop brings PB15:1 and PB15:3 too.
        codes = [found, *(p.code for p in load().suffixed(found))]
    tubes: dict[str, Tube] = {}
    for code in codes:
        page = held.store.find(
            search.q.strip()[:200],
            code=code,
            maker=search.maker.strip(),
            medium=search.medium,
            in_stock=search.in_stock,
            limit=_EVERY,
        )
        tubes.update((t.id, t) for t in page.tubes)
    keep: list[Callable[[Tube], bool]] = []
    if at_most is not None:
        keep.append(lambda t: t.price is not None and t.price <= at_most)
    if search.permanence:
        keep.append(lambda t: _lasts(t, search.permanence))
    if search.hue:
        keep.append(lambda t: search.hue in hues_of(held, t))
    return tuple(t for t in tubes.values() if all(k(t) for k in keep)), ""


def _lasts(tube: Tube, wanted: str) -> bool:
    category = lightfastness(tube.refs, tube.medium) if tube.refs else "not rated"
    if wanted == "lasting":
        return lasting(category)
    if wanted == "fading":
        return category in ("III", "IV", "V", FUGITIVE)
    return category == wanted


def hues_of(held: Holdings, tube: Tube) -> tuple[str, ...]:
    """Under which hues a tube is looked for: its pigment's own, else those of its colour."""
    if len(tube.refs) == 1 and tube.swatch_lab is None:
        pigment = load().get(tube.refs[0].code)
        if pigment is not None and not pigment.forms:
            return (pigment.hue,)
    colour = held.seen(tube).colour
    if colour is None:
        return ()
    lightness, chroma, hue = lch_from_lab(colour.lab).tolist()
    name = colour.name
    if "brown" in name:
        return ("brown",)
    if "white" in name or (lightness > 88.0 and chroma < 10.0):
        return ("white",)
    if name.endswith(("grey", "black")):
        return ("black",) if lightness < 30.0 else ("grey",)
    family = hue_family(hue)
    return _FAMILIES.get(family, (family,))
