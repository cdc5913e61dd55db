"""The mixing chart: every tube with every other, in equal parts and with white."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.cards.paint_facts import PaintFacts, facts_of
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.appearance import WHITE, appearance, lab_alone, mixed
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf

# Equal parts show the mixture; as much white again as both together shows its hue where it is dark.
TINT_WHITE = 4.0
MOST = 24


@dataclass(frozen=True, slots=True)
class MixingChart:
    """The colours of tubes two by two: `cells[i][j]` is that of tube i with tube j.

    Above the diagonal they are in equal parts, below it the same with white, on it alone.
    """

    paints: tuple[PaintFacts, ...]
    cells: tuple[tuple[Colour, ...], ...]
    white: str


def mixing_chart(terms: Sequence[str], shelf: Shelf, white: str = WHITE) -> MixingChart:
    """Mix each of 2 to 24 `terms` with each other; `white` is the term that lightens them.

    Raises UserError for another number of terms, or one that nobody knows.
    """
    if not 2 <= len(terms) <= MOST:
        raise UserError(f"a mixing chart takes 2 to {MOST} tubes, not {len(terms)}")
    paints = [shelf.term(term) for term in terms]
    lightener = shelf.term(white)
    cells = []
    for i, paint in enumerate(paints):
        row = []
        for j, other in enumerate(paints):
            if i == j:
                row.append(Colour.of(lab_alone(paint)[0]))
            elif i < j:
                row.append(_mixed([paint, other], [1.0, 1.0]))
            else:
                row.append(_mixed([paint, other, lightener], [1.0, 1.0, TINT_WHITE]))
        cells.append(tuple(row))
    return MixingChart(tuple(facts_of(p, shelf) for p in paints), tuple(cells), lightener.name)


def _mixed(paints: Sequence[Paint], parts: Sequence[float]) -> Colour:
    K, S = mixed(paints, parts)
    return Colour.of(lab_from_reflectance(appearance(K[:1], S[:1]))[0])
