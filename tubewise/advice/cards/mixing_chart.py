"""The mixing chart: every tube with every other, in equal parts and with white."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.binder import common
from tubewise.advice.cards.paint_facts import PaintFacts, facts_of
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.appearance import mixed
from tubewise.paints.paint import Paint
from tubewise.paints.setting import Setting
from tubewise.paints.shelf import Shelf
from tubewise.paints.wash import WASHES

# Equal parts show the mixture; as much white again as both together shows its hue where it is dark.
TINT_WHITE = 4.0
MOST = 24


@dataclass(frozen=True, slots=True)
class MixingChart:
    """The colours of tubes two by two: `cells[i][j]` is that of tube i with tube j.

    Above the diagonal they are in equal parts, below it the same with white, on it alone; in
    watercolour in strong and, below it, in middle washes. `words` tell it.
    """

    paints: tuple[PaintFacts, ...]
    cells: tuple[tuple[Colour, ...], ...]
    white: str
    words: str


def mixing_chart(
    terms: Sequence[str], shelf: Shelf, white: str = "", medium: str = ""
) -> MixingChart:
    """Mix each of 2 to 24 `terms` with each other; `white` is the term that lightens them.

    Without one they are made paler as their medium is, in watercolour with water; `medium` is that
    of mere pigments.
    Raises UserError for another number of terms, or one that nobody knows.
    """
    if not 2 <= len(terms) <= MOST:
        raise UserError(f"a mixing chart takes 2 to {MOST} tubes, not {len(terms)}")
    paints = [shelf.term(term) for term in terms]
    medium = common([medium])
    setting = shelf.setting_for(*paints, medium=medium)
    if white:
        setting = setting.with_white(shelf.term(white))
    strong, pale = _dilutions(setting)
    cells = []
    for i, paint in enumerate(paints):
        row = []
        for j, other in enumerate(paints):
            if i == j:
                row.append(Colour.of(setting.lab_alone(paint)[0]))
            elif i < j:
                row.append(_mixed([paint, other], strong, setting))
            else:
                row.append(_mixed([paint, other], pale, setting))
        cells.append(tuple(row))
    return MixingChart(
        tuple(facts_of(p, shelf, medium) for p in paints),
        tuple(cells),
        setting.lightener.name,
        _words(setting),
    )


def _dilutions(setting: Setting) -> tuple[float, float]:
    """Parts of white or water to two of paint, above and below the diagonal."""
    if setting.in_washes:
        return 2.0 * WASHES["strong"], 2.0 * WASHES["middle"]
    return 0.0, TINT_WHITE


def _words(setting: Setting) -> str:
    strong, pale = _dilutions(setting)
    if setting.in_washes:
        return (
            "Above the heavy squares, row and column in equal parts by volume, in a strong wash, "
            f"1 : 1 in {strong:g} of water; below them the same in a middle wash, 1 : 1 in "
            f"{pale:g} of water; the heavy squares are strong washes of the tubes alone."
        )
    return (
        "Above the heavy squares, row and column in equal parts by volume; below them the same "
        f"with white, 1 : 1 : {pale:g} ({setting.lightener.name}); the heavy squares are the "
        "tubes alone."
    )


def _mixed(paints: Sequence[Paint], parts: float, setting: Setting) -> Colour:
    """Two paints in equal parts, in so many parts of white or water."""
    K, S = mixed([*paints, setting.lightener], [1.0, 1.0, parts])
    return Colour.of(lab_from_reflectance(setting.reads(K[:1], S[:1]))[0])
