"""A tube or pigment with everything a card says about it: its strip, and the words beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.words.kind import kind_text
from tubewise.advice.words.lists import dotted
from tubewise.advice.words.price import price_text
from tubewise.advice.words.size import size_text
from tubewise.colour.patch import Colour
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.paints.strip import Strip, strip
from tubewise.pigments.permanence import cautions, lightfastness
from tubewise.pigments.pigment import Caution
from tubewise.pigments.trust import MODELLED, Basis, Confidence, basis_of


@dataclass(frozen=True, slots=True)
class PaintFacts:
    """One paint; `strip` is its drawdown, `basis` what its colours rest on.

    `kind` is its grade and medium, "" where neither is known.
    """

    title: str
    pigments: tuple[str, ...]
    colour: Colour
    strip: Strip
    lightfastness: str
    cautions: tuple[Caution, ...]
    price: str
    basis: Basis
    confidence: Confidence
    notes: tuple[str, ...] = ()
    kind: str = ""


def facts_of(paint: Paint, shelf: Shelf, medium: str = "") -> PaintFacts:
    """The paint with everything a card says about it; `medium` is that of a mere pigment."""
    tube = paint.tube
    setting = shelf.setting_for(paint, medium=medium)
    return PaintFacts(
        paint.name,
        paint.pigments,
        Colour.of(setting.lab_alone(paint)[0]),
        strip(paint, setting),
        lightfastness(paint.refs, tube.medium if tube else medium),
        cautions(paint.refs),
        dotted(size_text(tube.size_ml), price_text(tube.price, tube.currency)) if tube else "",
        paint.basis,
        paint.confidence,
        paint.notes,
        kind_text(tube) if tube else medium,
    )


def rests_on(paints: Sequence[PaintFacts]) -> str:
    """What a card of several paints rests on: the least measured of them."""
    return basis_of(*(p.basis for p in paints)) if paints else MODELLED
