"""A mixture that the search found, with everything a painter asks of it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tubewise.advice.purpose import standing
from tubewise.advice.recipes.corrections import corrections
from tubewise.advice.recipes.metamerism import special_metamerism
from tubewise.advice.recipes.miss import judged_under, misses, under_text
from tubewise.advice.recipes.premix import Premixed
from tubewise.advice.recipes.problem import chosen_paints
from tubewise.advice.recipes.results import Recipe, RecipePart, parts_text
from tubewise.advice.recipes.steps import mixing_steps
from tubewise.advice.recipes.sureness import how_sure
from tubewise.advice.recipes.target import Target
from tubewise.advice.recipes.wishes import Wishes, currencies, mixture_price
from tubewise.advice.words.kind import kind_text
from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.patch import Colour
from tubewise.colour.words import describe
from tubewise.paints.appearance import mixed, spread_95
from tubewise.paints.mixing import PARTS_ERROR, Uncertainty
from tubewise.paints.paint import Paint
from tubewise.pigments.permanence import cautions
from tubewise.pigments.trust import basis_of, least_sure
from tubewise.search.problem import Proportions, SearchProblem


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Brief:
    """What a recipe was asked to be: near a `target`, in a `medium`, by the `wishes`."""

    target: Target
    medium: str
    wishes: Wishes


def recipe_part(paint: Paint, parts: float) -> RecipePart:
    """A paint of a mixture, told as the tube it comes from."""
    tube = paint.tube
    return RecipePart(
        tube=tube.id if tube else paint.name,
        title=paint.name,
        pigments=paint.pigments,
        parts=float(parts),
        paint=kind_text(tube) if tube else "",
    )


def recipe_parts(paints: Sequence[Paint], amounts: Floats) -> tuple[RecipePart, ...]:
    """The parts of a mixture; `amounts` (n,)."""
    return tuple(recipe_part(p, n) for p, n in zip(paints, amounts, strict=True))


def described(
    found: Proportions,
    problem: SearchProblem,
    paints: Sequence[Paint],
    brief: Brief,
    first: Premixed | None = None,
) -> Recipe:
    """The recipe of a found mixture.

    `found` is in rows of `paints`, as `problem` was solved; `first` where a tint is mixed first.
    """
    target, wishes = brief.target, brief.wishes
    chosen, amounts = chosen_paints(found, paints)
    R = wishes.seen(*mixed(chosen, amounts, parts_error=PARTS_ERROR if len(chosen) > 1 else 0.0))
    lab = lab_from_reflectance(R)
    by_light = misses(target, R[0])
    light = judged_under(by_light, wishes)
    sure = how_sure(chosen, amounts, found.parts is not None, wishes)
    if found.parts is None:
        amounts = np.round(amounts / amounts.sum() * 100.0, 1)
    steps = mixing_steps(chosen, amounts)
    mixture = parts_text(recipe_parts(chosen, amounts))
    tubes = chosen
    if first is not None:
        steps = (first.first, *steps)
        mixture = f"{first.first}; then {mixture}"
        tubes, amounts = first.from_tubes(chosen, amounts)
    seen = describe(target.lab_under(light), lab_from_reflectance(R[0], light))
    how_near = f"{seen} (CIEDE2000 {by_light[light]:.1f}{under_text(light)})"
    refs = tuple(dict.fromkeys(ref for p in chosen for ref in p.refs))
    stands = standing(refs, brief.medium, wishes.purpose)
    cost = mixture_price(tubes, amounts)
    return Recipe(
        parts=recipe_parts(tubes, amounts),
        kind=found.kind,
        colour=Colour.of(lab[0]),
        delta_e00=by_light[light],
        mixture=mixture,
        how_near=how_near,
        tint_first=first.first if first else "",
        steps=steps,
        corrections=corrections(found, problem, paints),
        uncertainty=Uncertainty(round(spread_95(lab), 2)),
        sureness=sure,
        light=light,
        by_light=by_light,
        metamerism=special_metamerism(target.reflectance, R[0]),
        lightfastness=stands.category,
        warning=stands.line,
        beside=stands.beside,
        cautions=cautions(refs),
        price_per_ml=None if cost is None else round(cost, 4),
        currency="" if cost is None else currencies(tubes)[0],
        basis=basis_of(*(p.basis for p in chosen)),
        confidence=least_sure(*(p.confidence for p in chosen)),
        words=f"{mixture}: {how_near}",
    )
