"""The tint ladder: each tube with more and more white, in watercolour with more and more water."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tubewise.advice.binder import common
from tubewise.advice.cards.paint_facts import PaintFacts, facts_of
from tubewise.colour.arrays import Floats
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.appearance import Company
from tubewise.paints.paint import Paint
from tubewise.paints.setting import Setting
from tubewise.paints.shelf import Shelf

# Parts of white, or of water, to one of the tube; each step about as far from the last to the eye.
STEPS = (1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0)
MOST = 40


@dataclass(frozen=True, slots=True)
class Rung:
    """One step: parts of white or water to one of the tube (0: the tube alone), and the colour."""

    white: float
    colour: Colour


@dataclass(frozen=True, slots=True)
class TintLadder:
    """A ladder for each paint, from the tube alone to the palest tint with `white`.

    In watercolour that is water; `words` tell what is done to what, `alone` what the first is.
    """

    paints: tuple[PaintFacts, ...]
    rungs: tuple[tuple[Rung, ...], ...]
    white: str
    title: str
    words: str
    alone: str


def tint_ladder(
    terms: Sequence[str], shelf: Shelf, white: str = "", medium: str = ""
) -> TintLadder:
    """Tint each of the `terms` with the term `white`, else as their medium is made paler.

    `medium` is that of mere pigments. Raises UserError for a term nobody knows.
    """
    if not 1 <= len(terms) <= MOST:
        raise UserError(f"tint ladders take 1 to {MOST} tubes, not {len(terms)}")
    paints = [shelf.term(term) for term in terms]
    medium = common([medium])
    setting = shelf.setting_for(*paints, medium=medium)
    if white:
        setting = setting.with_white(shelf.term(white))
    rungs = []
    for paint in paints:
        steps = [Rung(n, Colour.of(_tint(paint, n, setting))) for n in (0.0, *STEPS)]
        rungs.append(tuple(steps))
    pale = setting.lightener.name
    body = f"{pale}, on white paper" if setting.in_washes else f"white ({pale})"
    return TintLadder(
        tuple(facts_of(p, shelf, medium) for p in paints),
        tuple(rungs),
        pale,
        "Wash ladder" if setting.in_washes else "Tint ladder",
        f"One part of the tube to so many parts of {body}, by volume.",
        "no water" if setting.in_washes else "alone",
    )


def _tint(paint: Paint, parts: float, setting: Setting) -> Floats:
    """CIELAB (3,) of one part of a paint in so many of white or water."""
    return np.asarray(setting.lab_with(paint, Company("", (setting.lightener,), (parts,), 1.0))[0])
