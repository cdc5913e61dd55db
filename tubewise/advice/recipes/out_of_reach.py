"""Out of reach: the strongest recipe of the hue, where the nearest turns away from it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from tubewise.advice.recipes.described import Brief, described
from tubewise.advice.recipes.reach import GREY, any_paint_reaches, hold_hue
from tubewise.advice.recipes.results import COUNTED, Recipe
from tubewise.advice.recipes.simple_washes import counted_washes
from tubewise.advice.recipes.wishes import WASH
from tubewise.advice.words.thresholds import CLOSE
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance, lch_from_lab
from tubewise.paints.paint import Paint
from tubewise.paints.wash import is_water
from tubewise.search.candidates import candidates
from tubewise.search.problem import Proportions, SearchProblem
from tubewise.search.recipes import search

# A nearest recipe that keeps the hue within so many degrees needs no other. common practice.
KEPT = 8.0


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
    thin film, or where no mixture here has its hue.
    """
    target = brief.target.lab
    near = lab_from_reflectance(best.reflectance)
    miss = float(delta_e_2000(near, target))
    washed = brief.wishes.film == WASH
    if miss < CLOSE or brief.wishes.light != "D65" or brief.wishes.film not in ("opaque", WASH):
        return None
    if _turn(target, near) < KEPT and lch_from_lab(near)[1] > GREY / 2.0:
        return None
    dry = [i for i, paint in enumerate(paints) if not is_water(paint)]
    K, S = np.asarray(problem.K)[dry], np.asarray(problem.S)[dry]
    inside = hold_hue(target, K, S, problem.max_paints - washed, washed)
    if inside is None:
        return None
    aimed = replace(problem, target_lab=inside.lab[None], target_reflectance=None, prove=False)
    found = _nearest_wash(aimed, paints) if washed else search(replace(aimed, alternatives=0)).best
    if found is None:
        return None
    if _turn(target, lab_from_reflectance(found.reflectance)) >= _turn(target, near):
        return None
    recipe = replace(described(found, problem, paints, brief), kind="hue held")
    words = f"no paint here reaches it; the strongest of this hue is {recipe.mixture}"
    if not any_paint_reaches(target, CLOSE, washed):
        words += "; no ordinary paint does, only one that fluoresces could"
    return HueHeld(recipe=recipe, words=words)


def _nearest_wash(problem: SearchProblem, paints: Sequence[Paint]) -> Proportions | None:
    """The nearest wash in parts that can be counted; None where there is none."""
    water = next(i for i, paint in enumerate(paints) if is_water(paint))
    near = candidates(replace(problem, max_parts=None))
    washes = counted_washes(problem, near, water, COUNTED, "D65")
    return min(washes, key=lambda wash: wash.value, default=None)


def _turn(target: Floats, lab: Floats) -> float:
    """How far a colour turns from the target's hue, in degrees."""
    turn = float(lch_from_lab(lab)[2] - lch_from_lab(target)[2])
    return abs((turn + 180.0) % 360.0 - 180.0)
