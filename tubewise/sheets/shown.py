"""A tube or pigment as a sheet shows it: its strip, and the words that stand beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tubewise.advice.words.lists import dotted
from tubewise.advice.words.price import price_text
from tubewise.advice.words.size import size_text
from tubewise.colour.patch import Colour
from tubewise.paints.appearance import WHITE, lab_alone
from tubewise.paints.paint import Paint, basis_of
from tubewise.paints.shelf import Shelf
from tubewise.paints.strip import Strip, strip
from tubewise.pigments.models import MODELLED
from tubewise.pigments.permanence import cautions, lightfastness
from tubewise.pigments.pigment import Caution


@dataclass(frozen=True, slots=True)
class Shown:
    """One paint on a sheet. `basis` is its paint's; `strip` its drawdown."""

    title: str
    pigments: tuple[str, ...]
    colour: Colour
    strip: Strip
    lightfastness: str
    cautions: tuple[Caution, ...]
    price: str
    basis: str
    confidence: str
    notes: tuple[str, ...] = ()


def show(paint: Paint, shelf: Shelf) -> Shown:
    """The paint with everything a sheet says about it."""
    tube = paint.tube
    return Shown(
        paint.name,
        paint.pigments,
        Colour.of(lab_alone(paint)[0]),
        strip(paint, shelf.pigment(WHITE)),
        lightfastness(paint.refs, tube.medium if tube else ""),
        cautions(paint.refs),
        dotted(size_text(tube.size_ml), price_text(tube.price, tube.currency)) if tube else "",
        paint.basis,
        paint.confidence,
        paint.notes,
    )


def rests_on(shown: Sequence[Shown]) -> str:
    """What a whole sheet rests on: the least measured of its paints."""
    return basis_of(*(s.basis for s in shown)) if shown else MODELLED


def strip_data(drawn: Strip | None) -> dict[str, Any] | None:
    """A strip as the templates take it."""
    if drawn is None:
        return None
    return {
        "masstone": drawn.masstone,
        "over_white": list(drawn.over_white),
        "over_black": list(drawn.over_black),
        "tints": list(drawn.tints),
    }


def caution_kinds(found: Sequence[Caution]) -> str:
    """The kinds of caution, each once: cadmium, zinc."""
    return ", ".join(dict.fromkeys(c.kind for c in found))


def caution_texts(found: Sequence[Caution]) -> list[str]:
    """The cautions in full, each once."""
    return list(dict.fromkeys(c.text for c in found))
