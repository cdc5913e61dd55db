"""The mixing chart: every tube with every other, balanced by strength, strong and pale."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.alike.balance import balanced_parts, lab_lightened, lightened_to
from tubewise.advice.binder import common
from tubewise.advice.cards.paint_facts import PaintFacts, facts_of
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.paint import Paint
from tubewise.paints.setting import Setting
from tubewise.paints.shelf import Shelf
from tubewise.paints.wash import WASHES

# Darker than this no eye tells the hue of a mixture: as much white or water is added as lifts it.
STRONG_L = 40.0
# The pale mixture is as light as this, and far lighter than the strong one. common practice, no
# source.
PALE_L = 66.0
PALER = 14.0
LIGHT_L = 80.0
# White to each part of paint that a pale mixture has at the least.
PALE_WHITE = 2.0
# Of a tube alone: the tint or wash that tells the hue of a dark one.
TINT_WHITE = 4
MOST = 24


@dataclass(frozen=True, slots=True)
class ChartCell:
    """One square: its colour, and the parts to squeeze out, as they are written on the chart.

    `parts`: of the row's tube, of the column's, then of white or water: `2 : 1 : 8`; of a tube
    alone "" or what thins it.
    """

    colour: Colour
    parts: str


@dataclass(frozen=True, slots=True)
class MixingChart:
    """The colours of tubes two by two: `cells[i][j]` is that of tube i with tube j.

    Parts are balanced by tinting strength. Above the diagonal mixtures are strong, with no more
    white than shows their hue; below it pale; on it stand the tubes alone, `tints` are these made
    paler. In watercolour water stands for white. `words` tell it.
    """

    paints: tuple[PaintFacts, ...]
    cells: tuple[tuple[ChartCell, ...], ...]
    tints: tuple[ChartCell, ...]
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
    pairs = {
        (i, j): _pair(paint, other, setting)
        for i, paint in enumerate(paints)
        for j, other in enumerate(paints[i + 1 :], i + 1)
    }
    alone = [ChartCell(Colour.of(setting.lab_alone(p)[0]), "") for p in paints]
    cells = tuple(
        tuple(
            alone[i] if i == j else pairs[i, j][0] if i < j else pairs[j, i][1]
            for j in range(len(paints))
        )
        for i in range(len(paints))
    )
    return MixingChart(
        tuple(facts_of(p, shelf, medium) for p in paints),
        cells,
        tuple(_tint(p, setting) for p in paints),
        setting.lightener.name,
        _words(setting),
    )


def _pair(a: Paint, b: Paint, setting: Setting) -> tuple[ChartCell, ChartCell]:
    """Two paints in balanced parts: strong, in the order a : b, and pale, in the order b : a."""
    parts = balanced_parts(a, b)
    total = float(sum(parts))
    washes = setting.in_washes
    little = lightened_to(
        (a, b), parts, setting, STRONG_L, WASHES["strong"] * total if washes else 0.0
    )
    strong = Colour.of(lab_lightened((a, b), parts, little, setting))
    much = lightened_to(
        (a, b),
        parts,
        setting,
        # Light mixtures cannot grow much lighter; they have their white all the same.
        min(max(PALE_L, strong.lab[0] + PALER), LIGHT_L),
        max(WASHES["middle"] * total if washes else PALE_WHITE * total, little + 1.0),
    )
    pale = Colour.of(lab_lightened((a, b), parts, much, setting))
    return (
        ChartCell(strong, _parts_text(*parts, little)),
        ChartCell(pale, _parts_text(parts[1], parts[0], much)),
    )


def _tint(paint: Paint, setting: Setting) -> ChartCell:
    white = int(WASHES["middle"]) if setting.in_washes else TINT_WHITE
    return ChartCell(
        Colour.of(lab_lightened((paint,), (1,), white, setting)), _parts_text(1, white)
    )


def _parts_text(*parts: int) -> str:
    """`2 : 1 : 8`; no white is not written."""
    return " : ".join(str(n) for n in parts if n)


def _words(setting: Setting) -> str:
    pale = setting.lightener.name
    balanced = "by volume, balanced so that neither drowns the other"
    if setting.in_washes:
        return (
            f"The figures are parts of the row, of the column and of water, {balanced}. Above the "
            "heavy squares a strong wash, with no more water than shows its hue; below them a pale "
            "one. Heavy squares are the tubes alone, above in a strong wash, below in a middle one."
        )
    return (
        f"The figures are parts of the row, of the column and of white ({pale}), {balanced}. Above "
        "the heavy squares the mixture with no more white than shows its hue; below them a pale "
        "tint. Heavy squares are the tubes alone, above as squeezed, below with white."
    )
