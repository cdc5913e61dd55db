"""Recipes in watercolour: a wash on paper, with water as a part and the paper as its white."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from tubewise.advice.recipes.wishes import WASH, Wishes
from tubewise.paints.appearance import is_white
from tubewise.paints.paint import Paint
from tubewise.paints.setting import skin_of
from tubewise.paints.wash import water
from tubewise.pigments.binders import laid_as

# A wash of one part in so many is as pale as is mixed by parts. common practice, no source.
MOST_PARTS = 24
# More than three paints in a wash make mud. common practice, no source.
MOST_PAINTS = 3


class Palette(NamedTuple):
    """What a recipe is mixed from: the `paints`, how many of them, in how many parts, as what."""

    paints: Sequence[Paint]
    max_paints: int
    max_parts: int | None
    wishes: Wishes


def palette(
    paints: Sequence[Paint], max_paints: int, max_parts: int | None, medium: str, wishes: Wishes
) -> Palette:
    """The palette of a medium: in watercolour water is one of the paints, which counts as none.

    White is not on it there unless it is required, or there is nothing else; pale washes take as
    many parts of water as they need.
    """
    if laid_as(medium) != WASH or wishes.film != "opaque":
        dry = replace(wishes, surface=skin_of(medium))
        return Palette(paints, max_paints, max_parts, dry)
    coloured = [p for p in paints if not is_white(p) or (p.tube and p.tube.id in wishes.must)]
    return Palette(
        [*(coloured or paints), water()],
        min(max_paints, MOST_PAINTS) + 1,
        None if max_parts is None else max(max_parts, MOST_PARTS),
        replace(wishes, film=WASH),
    )
