"""The recipe to name first: the simplest that does, or, out of reach, the strongest of the hue."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from tubewise.advice.recipes.described import Brief, described
from tubewise.advice.recipes.reach import GREY, any_paint_reaches, hold_hue
from tubewise.advice.recipes.results import Recipe
from tubewise.advice.recipes.wishes import WASH
from tubewise.advice.words.thresholds import CLOSE
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance, lch_from_lab
from tubewise.colour.lights import LIGHTS
from tubewise.colour.words import seen_words
from tubewise.paints.paint import Paint
from tubewise.search.problem import Proportions, SearchProblem, SearchResult
from tubewise.search.recipes import search

# So many parts are mixed by counting daubs, 1 : 8; so near, in CIEDE2000, a simple recipe does,
# and so much nearer another must come to be worth a further paint. common practice, no source.
SIMPLE_PARTS = 9
DOES = 2.0
WORTH_MORE = 1.0
SIMPLE_PAINTS = 3
# A nearest recipe that keeps the hue within so many degrees needs no other. common practice.
KEPT = 8.0


def simplest(
    problem: SearchProblem, result: SearchResult, paints: Sequence[Paint], brief: Brief
) -> Recipe | None:
    """The recipe of the fewest paints, in at most 1 : 8, that comes near enough or as near.

    What the search found beside the best need not be looked for again.
    None where the nearest recipe is that simple itself, where any proportions may be mixed, and
    where several lights or the spectrum are to be met.
    """
    best, most = result.best, problem.max_parts
    if most is None or brief.wishes.light not in LIGHTS:
        return None
    washed = brief.wishes.film == WASH
    # Water is no paint, and a puddle of it is not counted in daubs.
    largest = min(SIMPLE_PAINTS + washed, problem.max_paints, len(best.indices))
    counts = range(max(1, len(problem.must)), largest + 1)
    # Daubs that can be counted first, then a touch of a strong paint.
    for parts in sorted({most if washed else min(SIMPLE_PARTS, most), most}):
        for count in (n for n in counts if n <= parts):
            few = replace(problem, max_paints=count, max_parts=parts, alternatives=0, prove=False)
            found = _known(result.alternatives, count, parts) or search(few).best
            if found.cost <= max(DOES, best.cost + WORTH_MORE):
                if found.cost <= best.cost or _same(found, best):
                    return None
                return _beside(described(found, problem, paints, brief), best, brief)
    return None


def _known(others: Sequence[Proportions], count: int, parts: int) -> Proportions | None:
    """The nearest of those found that does with so few paints and parts."""
    few = [
        other
        for other in others
        if len(other.indices) <= count and other.parts is not None and sum(other.parts) <= parts
    ]
    near = min(few, key=lambda other: other.cost, default=None)
    return near if near is not None and near.cost <= DOES else None


def _same(a: Proportions, b: Proportions) -> bool:
    return list(a.indices) == list(b.indices) and np.allclose(a.shares, b.shares)


def _beside(recipe: Recipe, best: Proportions, brief: Brief) -> Recipe:
    """The simple recipe with what it costs in colour beside the nearest, in words."""
    light = recipe.light
    there = lab_from_reflectance(best.reflectance, light)
    apart = float(delta_e_2000(np.asarray(recipe.colour.lab), there)) if light == "D65" else None
    beside = "" if apart is None else f"; beside the nearest recipe {seen_words(apart)}"
    return replace(
        recipe,
        kind="simplest",
        how_near=recipe.how_near + beside,
        words=recipe.words + beside,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class HueHeld:
    """The strongest recipe of a hue that is out of reach, and what to say of the reach."""

    recipe: Recipe
    words: str


def hue_held(
    problem: SearchProblem, best: Proportions, paints: Sequence[Paint], brief: Brief
) -> HueHeld | None:
    """The strongest of the target's hue, where the nearest recipe turns away from it.

    None where the target is in reach, nearly grey, seen under other lights than daylight or in a
    film, or where no mixture here has its hue.
    """
    target = brief.target.lab
    near = lab_from_reflectance(best.reflectance)
    miss = float(delta_e_2000(near, target))
    if miss < CLOSE or brief.wishes.light != "D65" or brief.wishes.film != "opaque":
        return None
    if _turn(target, near) < KEPT and lch_from_lab(near)[1] > GREY / 2.0:
        return None
    K, S = (np.asarray(problem.K), np.asarray(problem.S))
    inside = hold_hue(target, K, S, problem.max_paints)
    if inside is None:
        return None
    aimed = replace(problem, target_lab=inside.lab[None], target_reflectance=None, alternatives=0)
    found = search(replace(aimed, prove=False)).best
    if _turn(target, lab_from_reflectance(found.reflectance)) >= _turn(target, near):
        return None
    recipe = replace(described(found, problem, paints, brief), kind="hue held")
    words = f"no paint here reaches it; the strongest of this hue is {recipe.mixture}"
    if not any_paint_reaches(target, CLOSE):
        words += "; no ordinary paint does, only one that fluoresces could"
    return HueHeld(recipe=recipe, words=words)


def _turn(target: Floats, lab: Floats) -> float:
    """How far a colour turns from the target's hue, in degrees."""
    turn = float(lch_from_lab(lab)[2] - lch_from_lab(target)[2])
    return abs((turn + 180.0) % 360.0 - 180.0)
