"""How a tube or a mixture handles in its own binder, in a painter's words, and as wishes."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tubewise.errors import UserError
from tubewise.pigments.binders import binder_named, binders
from tubewise.pigments.handling import (
    NOT_KNOWN,
    Handling,
    Wish,
    drying_shift,
    handling,
    oil_absorption,
    together,
)
from tubewise.pigments.opacity import CLEAR, COVERING, opacities
from tubewise.pigments.ref import Ref

OIL, GUM = "oil-bound", "gum-bound"
SHIFT = "drying shift"

OPACITY, ANY = "opacity", ""
# What each wish asks: the property, the values that fulfil it, and the binders it is about.
_ASKS: Mapping[Wish, tuple[str, tuple[str, ...], str]] = {
    "granulating": ("granulation", ("granulating",), GUM),
    "non-staining": ("staining", ("low",), GUM),
    "staining": ("staining", ("staining",), GUM),
    "fast-drying": ("drying", ("fast",), OIL),
    "transparent": (OPACITY, CLEAR, ANY),
    "opaque": (OPACITY, COVERING, ANY),
}
_DRYING = {
    "fast": "dries fast in oil, for its kind",
    "medium": "dries at a middling pace in oil",
    "slow": "dries slowly in oil: keep it out of the lower layers",
}
_FILM = {
    "tough": "its oil film is tough and stays pliant",
    "soft": "its oil film stays soft",
    "brittle": "its oil film turns brittle and may flake",
}
_STAINING = {"low": "hardly stains", "medium": "stains a little", "staining": "stains the paper"}
_GRANULATION = {
    "smooth": "lies smooth",
    "slight": "granulates slightly",
    "granulating": "granulates",
}
_LIFTING = {"easy": "lifts easily", "partly": "lifts in part", "hard": "is hard to lift"}
_COVERING = {
    "weak": "covers weakly",
    "medium": "covers fairly",
    "strong": "covers strongly",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Trait:
    """One thing about how a paint handles: `of` says which, `value` as in the data, in words."""

    of: str
    value: str
    words: str
    source: str


def traits(refs: Iterable[str], medium: str) -> tuple[Trait, ...]:
    """How pigments handle together in a medium: what matters there, "not known" said as such.

    Drying, film and oil in oil-bound paints; staining, granulation, lifting and transparency in
    gum-bound ones; covering in the others; the shift in drying of the binder in each. Nothing
    without pigments or a medium. Raises ValueError for a medium nobody knows.
    """
    pigments = tuple(map(Ref, refs))
    binder = binder_named(medium)
    if not pigments or not binder:
        return ()
    facts = together(pigments)
    family = binders()[binder].family
    out: list[Trait] = []
    if family == OIL:
        out = [_trait("drying", facts, _DRYING), _trait("film", facts, _FILM), *_oil(pigments)]
    elif family == GUM:
        out = [
            _trait("staining", facts, _STAINING),
            _trait("granulation", facts, _GRANULATION),
            _trait("lifting", facts, _LIFTING),
            _trait("wash", facts, {}),
        ]
    if binder != "watercolour":
        out.append(_trait("covering", facts, _COVERING))
    shift = drying_shift(binder)
    if shift is not None:
        words = f"touch dry {shift.touch_dry}. {shift.text}"
        out.append(Trait(of=SHIFT, value=shift.shift, words=words, source=shift.source))
    return tuple(out)


def _trait(name: str, facts: Handling, words: Mapping[str, str]) -> Trait:
    value = str(getattr(facts, name))
    if value == NOT_KNOWN:
        words_for_it = f"{'transparency in a wash' if name == 'wash' else name}: not known"
    elif name == "wash":
        words_for_it = f"is {value} in a wash"
    else:
        words_for_it = words[value]
    return Trait(of=name, value=value, words=words_for_it, source=facts.source)


def _oil(refs: Iterable[Ref]) -> list[Trait]:
    """How much oil the paint takes up: the thirstiest pigment decides what is fat."""
    order = ("little", "some", "much")
    most = max((oil_absorption(ref) for ref in refs), key=order.index)
    advice = {
        "little": "lean: fit for the lower layers",
        "some": "neither lean nor fat",
        "much": "fat: fit for the upper layers",
    }
    words = f"takes up {most} oil ({advice[most]})"
    source = "data/densities.csv; fat over lean: common practice, no source"
    return [Trait(of="oil", value=most, words=words, source=source)]


def fits(wish: Wish, refs: Iterable[str]) -> bool:
    """Whether every pigment is known to be what is wished; what is not known does not fit."""
    name, wanted, _ = _ASKS[wish]
    pigments = tuple(refs)
    if name == OPACITY:
        values = opacities(pigments)
    else:
        values = tuple(str(getattr(handling(ref), name)) for ref in pigments)
    return bool(values) and all(value in wanted for value in values)


def fails(wishes: Iterable[Wish], refs: Iterable[str]) -> tuple[Wish, ...]:
    """The wishes that pigments are not known to meet."""
    pigments = tuple(refs)
    return tuple(wish for wish in wishes if not fits(wish, pigments))


def in_place(wish: Wish, medium: str) -> None:
    """Raise UserError where a wish means nothing in a medium: granulation is of washes."""
    family = _ASKS[wish][2]
    binder = binder_named(medium)
    if binder and family not in (ANY, binders()[binder].family):
        about = "watercolour and gouache" if family == GUM else "oil paints"
        raise UserError(f"this is a wish for {about}, and these tubes are {binder}", where=wish)
