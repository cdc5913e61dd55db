"""Recipes: which paints, in what parts, make a wanted colour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.recipes.described import Brief, described
from tubewise.advice.recipes.first_answer import simplest
from tubewise.advice.recipes.helper import most_helpful
from tubewise.advice.recipes.miss import miss_words, under_text
from tubewise.advice.recipes.out_of_reach import hue_held
from tubewise.advice.recipes.premix import premixed
from tubewise.advice.recipes.problem import MAX_PAINTS, MAX_PARTS, problem_of
from tubewise.advice.recipes.results import Recipe, Recipes, SearchReport
from tubewise.advice.recipes.target import Target
from tubewise.advice.recipes.watercolour import palette
from tubewise.advice.recipes.wishes import (
    PLAIN,
    SPECTRUM,
    WASH,
    Wishes,
    not_left_out,
    permitted,
    understood,
)
from tubewise.advice.words.thresholds import CLOSE
from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.words import seen_words
from tubewise.errors import UserError
from tubewise.paints.paint import Paint
from tubewise.pigments.models import fluoresces
from tubewise.search.problem import SearchResult
from tubewise.search.recipes import search


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Nearest:
    """The recipe that comes nearest, and the reflectance (36,) it shows."""

    recipe: Recipe
    reflectance: Floats

    @property
    def in_two_steps(self) -> bool:
        """Whether two steps reach what one does not."""
        return self.recipe.kind == "premixed" and self.recipe.delta_e00 < CLOSE

    @property
    def steps_text(self) -> str:
        return " in two steps" if self.recipe.kind == "premixed" else ""


GLOWS = "it fluoresces, which is not modelled: no paint that does not comes near its glow"


def recipe(
    target: Target,
    paints: Sequence[Paint],
    max_paints: int = MAX_PAINTS,
    max_parts: int | None = MAX_PARTS,
    medium: str = "",
    wishes: Wishes = PLAIN,
    shop: Sequence[Paint] = (),
) -> Recipes:
    """The recipes for `target` from `paints`, at most `max_paints` in `max_parts` in all.

    The simplest that does comes first, or the strongest of a hue that is out of reach; then the
    nearest and its alternatives. `shop` is where a missing tube might be bought: asked only when
    the target is out of reach. Raises UserError when there is nothing to mix from or a limit or
    wish makes no sense.
    """
    if not paints:
        raise UserError("no tube here declares its pigments, so nothing can be mixed from them")
    max_paints = paints_allowed(max_paints, max_parts)
    medium = medium or next((p.tube.medium for p in paints if p.tube), "")
    shop = not_left_out(shop, wishes)
    paints, wishes = understood(wishes, paints)
    paints = permitted(paints, wishes, medium)
    if len(wishes.must) > max_paints:
        raise UserError("more tubes are required than the recipe may hold")
    paints, max_paints, max_parts, wishes = palette(paints, max_paints, max_parts, medium, wishes)
    brief = Brief(target=target, medium=medium, wishes=wishes)
    problem = problem_of(target, paints, min(max_paints, len(paints)), max_parts, wishes)
    result = search(problem)
    found = [described(f, problem, paints, brief) for f in (result.best, *result.alternatives)]
    nearest = _Nearest(recipe=found[0], reflectance=result.best.reflectance)
    tinted = None if wishes.film == WASH else premixed(problem, result.best, paints)
    if tinted is not None:
        two_steps = described(tinted.found, tinted.problem, tinted.paints, brief, tinted)
        found.insert(1, two_steps)
        if nearest.recipe.delta_e00 >= CLOSE:
            nearest = _Nearest(recipe=two_steps, reflectance=tinted.found.reflectance)
    words = _reach_words(nearest, brief)
    strongest = None if nearest.in_two_steps else hue_held(problem, result.best, paints, brief)
    first = strongest.recipe if strongest else simplest(problem, result, paints, brief)
    if first is not None:
        found = _after(first, found)
    beyond = (GLOWS if fluoresces(target.refs) else "", strongest.words if strongest else "")
    words = "; ".join(filter(None, (*beyond, words)))
    helper = None
    if wishes.light != SPECTRUM and nearest.recipe.delta_e00 >= CLOSE:
        on_sale = permitted(shop, wishes, medium) if shop else ()
        miss = nearest.recipe.delta_e00
        helper = most_helpful(brief, paints, on_sale, miss, max_paints, max_parts)
    return Recipes(
        target=target.colour,
        target_name=target.name,
        recipes=tuple(found),
        search=_report(result, wishes),
        words=f"{words}; {helper.words}" if helper else words,
        helper=helper,
        spectral=target.spectral,
        medium=medium,
    )


def _after(first: Recipe, found: list[Recipe]) -> list[Recipe]:
    """The first answer, then the others; what the search listed for another reason comes once."""
    return [first, *(r for r in found if r.kind == "best" or r.parts != first.parts)]


def paints_allowed(max_paints: int, max_parts: int | None) -> int:
    """How many paints a recipe may hold: in two parts there is room for two.

    Raises UserError where none may be in it.
    """
    most = max_paints if max_parts is None else min(max_paints, max_parts)
    if most < 1:
        raise UserError("allow at least one paint and one part")
    return most


def _reach_words(nearest: _Nearest, brief: Brief) -> str:
    """Whether the target is within reach, and which way the nearest misses it where not."""
    best, miss = nearest.recipe, nearest.recipe.delta_e00
    if brief.wishes.light == SPECTRUM:
        return f"nearest in spectrum; by daylight it misses by CIEDE2000 {miss:.1f}"
    if miss < CLOSE:
        return f"within reach{nearest.steps_text}{under_text(best.light)}: {seen_words(miss)}"
    lab = lab_from_reflectance(nearest.reflectance, best.light)
    way = miss_words(brief.target.lab_under(best.light), lab)
    return (
        f"out of reach of these tubes{under_text(best.light)}; the nearest{nearest.steps_text} is "
        f"{way} (CIEDE2000 {miss:.1f})"
    )


def _report(result: SearchResult, wishes: Wishes) -> SearchReport:
    spectral = wishes.light == SPECTRUM
    return SearchReport(
        subsets=result.subsets,
        proved_best=result.proved_best,
        gap=round(float(result.gap), 3),
        measure="percent of reflectance" if spectral else "CIEDE2000",
    )
