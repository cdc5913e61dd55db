"""The tint ladder: each tube with more and more white."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.cards.paint_facts import PaintFacts, facts_of
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.appearance import WHITE, Company, lab_alone, lab_with
from tubewise.paints.shelf import Shelf

# Parts of white to one of the tube; each step about as far from the last to the eye.
STEPS = (1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0)
MOST = 40


@dataclass(frozen=True, slots=True)
class Rung:
    """One step: parts of white to one part of the tube (0 is the tube alone), and the colour."""

    white: float
    colour: Colour


@dataclass(frozen=True, slots=True)
class TintLadder:
    """A ladder for each paint, from the tube alone to the palest tint with `white`."""

    paints: tuple[PaintFacts, ...]
    rungs: tuple[tuple[Rung, ...], ...]
    white: str


def tint_ladder(terms: Sequence[str], shelf: Shelf, white: str = WHITE) -> TintLadder:
    """Tint each of the `terms` with the term `white`. Raises UserError for one nobody knows."""
    if not 1 <= len(terms) <= MOST:
        raise UserError(f"tint ladders take 1 to {MOST} tubes, not {len(terms)}")
    lightener = shelf.term(white)
    paints = [shelf.term(term) for term in terms]
    rungs = []
    for paint in paints:
        steps = [Rung(0.0, Colour.of(lab_alone(paint)[0]))]
        for n in STEPS:
            lab = lab_with(paint, Company("", (lightener,), (n,), 1.0))[0]
            steps.append(Rung(n, Colour.of(lab)))
        rungs.append(tuple(steps))
    return TintLadder(tuple(facts_of(p, shelf) for p in paints), tuple(rungs), lightener.name)
