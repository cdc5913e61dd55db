"""The recipe to name first: what somebody would mix, near enough."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from tubewise.advice.recipes.described import Brief, described
from tubewise.advice.recipes.premix import Premixed, premixed
from tubewise.advice.recipes.problem import families
from tubewise.advice.recipes.reluctance import (
    DULLED,
    FURTHER,
    TINT_FIRST,
    UNCOUNTED,
    dulled,
    is_toxic,
    trouble,
    weights,
)
from tubewise.advice.recipes.results import COUNTED, Recipe
from tubewise.advice.recipes.simple_washes import counted_washes
from tubewise.advice.recipes.wishes import WASH, WORTH_A_PAINT, penalties, prices
from tubewise.advice.words.thresholds import CLOSE
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.lights import LIGHTS
from tubewise.colour.words import seen_words
from tubewise.labels.phrasing import listing
from tubewise.paints.paint import Paint
from tubewise.paints.wash import is_water
from tubewise.search.candidates import candidates
from tubewise.search.problem import Proportions, SearchProblem, SearchResult

# So many parts are mixed by counting daubs, 1 : 8; so near, in CIEDE2000, a simple recipe does,
# and so much nearer another must come to be worth a further paint; so near an ordinary paint is
# taken before a toxic one; and so much of the colour counts that nobody sees.
# common practice, no source.
SIMPLE_PARTS = COUNTED
DOES = 2.0
WORTH_MORE = 1.0
ORDINARY = 4.0
UNSEEN = 0.25
SIMPLE_PAINTS = 3
# So many parts hold a touch of a strong paint.
TOUCH_PARTS = 16


def simplest(
    problem: SearchProblem, result: SearchResult, paints: Sequence[Paint], brief: Brief
) -> Recipe | None:
    """The recipe somebody would mix: few usual paints in countable parts, near enough.

    That is within CIEDE2000 `DOES`, or within `WORTH_MORE` of the nearest; what is toxic only where
    nothing else comes within `ORDINARY` (see `reluctance`). None where the nearest recipe is that
    simple itself, where any proportions may be mixed, and where several lights or the spectrum are
    to be met.
    """
    best, most = result.best, problem.max_parts
    if most is None or brief.wishes.light not in LIGHTS:
        return None
    weighed = replace(
        problem,
        penalty=_penalties(problem, paints, brief),
        must_not=_doubles(problem, paints),
        prove=False,
    )
    nearest = [_Weighed.of(best, problem, paints, brief)]
    known = [r for r in result.alternatives if not set(r.indices) & set(weighed.must_not)]
    found = [
        _Weighed.of(mixture, problem, paints, brief)
        for mixture in _mixtures(weighed, most, paints, brief, known)
        if _paints(mixture, paints) <= SIMPLE_PAINTS
    ]
    # A wash is thinned by whole parts, as the nearest seldom is.
    countable = found if brief.wishes.film == WASH and found else nearest + found
    choice = _choice(countable, _nearest_simple(countable))
    if choice.found.value > DOES and brief.wishes.film != WASH:
        tinted = _tinted(weighed, choice.found, paints, brief)
        choice = _choice([choice, *tinted], choice.found.value)
    if choice.tint is None and _same(choice.found, best):
        return None
    simple = described(choice.found, choice.problem, choice.paints, brief, choice.tint)
    return _beside(simple, nearest[0], choice, brief)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Weighed:
    """A recipe in rows of `paints` with what speaks against it: `toxic`, and its `cost` in all."""

    found: Proportions
    problem: SearchProblem
    paints: Sequence[Paint]
    tint: Premixed | None
    toxic: bool
    cost: float

    @classmethod
    def of(
        cls,
        found: Proportions,
        problem: SearchProblem,
        paints: Sequence[Paint],
        brief: Brief,
        tint: Premixed | None = None,
    ) -> _Weighed:
        """Weigh one recipe; below `DOES` colour counts little."""
        laid = _laid(found, paints, tint)
        squeezed = [p for p in laid[0] if not is_water(p)]
        refs = [ref for p in squeezed for ref in p.refs]
        others = weights().others
        nuisance = (
            _wished(found, paints, brief)
            + sum(trouble(p, brief.medium, brief.target.clear) for p in squeezed)
            + others[FURTHER] * max(len(squeezed) - 1, 0)
            + others[UNCOUNTED] * (_counted(found, paints) > SIMPLE_PARTS)
            + others[TINT_FIRST] * (tint is not None)
        )
        nuisance += others[DULLED] * dulled(brief.target.lab, *laid)
        miss = max(found.value, DOES) + UNSEEN * min(found.value, DOES)
        return cls(
            found=found,
            problem=problem,
            paints=paints,
            tint=tint,
            toxic=is_toxic(refs),
            cost=miss + nuisance,
        )


def _nearest_simple(found: Sequence[_Weighed]) -> float:
    """How near the recipes of few paints come; of more, where few do not make the colour."""
    best = min(recipe.found.value for recipe in found)
    few = (r.found.value for r in found if _paints(r.found, r.paints) <= SIMPLE_PAINTS)
    simple = min(few, default=best)
    return simple if simple < CLOSE else best


def _choice(found: Sequence[_Weighed], nearest: float) -> _Weighed:
    """The least reluctant of those near enough, ordinary paints before toxic ones."""
    near = max(DOES, nearest + WORTH_MORE)
    for wide in (near, max(near, ORDINARY)):
        ordinary = [recipe for recipe in found if not recipe.toxic and recipe.found.value <= wide]
        if ordinary:
            return min(ordinary, key=lambda recipe: recipe.cost)
    return min(
        (recipe for recipe in found if recipe.found.value <= near), key=lambda recipe: recipe.cost
    )


def _mixtures(
    problem: SearchProblem,
    most: int,
    paints: Sequence[Paint],
    brief: Brief,
    known: Sequence[Proportions],
) -> Iterator[Proportions]:
    """Mixtures in daubs that can be counted, and with a touch of a strong paint."""
    washed = brief.wishes.film == WASH
    few = replace(problem, max_paints=min(SIMPLE_PAINTS + washed, problem.max_paints))
    counts = sorted({min(SIMPLE_PARTS, most), min(TOUCH_PARTS, most) if washed else most})
    if washed:
        water = next(i for i, paint in enumerate(paints) if is_water(paint))
        near = (*known, *candidates(replace(few, max_parts=None)))
        for parts in counts:
            # Of two paints more parts can be counted.
            sets = near if parts <= SIMPLE_PARTS else [r for r in near if _paints(r, paints) < 3]
            yield from counted_washes(few, sets, water, parts, brief.wishes.light)
        return
    yield from known
    for parts in counts:
        if parts >= max(1, len(problem.must)):
            yield from candidates(replace(few, max_parts=parts))


def _tinted(
    problem: SearchProblem, simple: Proportions, paints: Sequence[Paint], brief: Brief
) -> list[_Weighed]:
    """The recipe of few paints that begins with a tint, if there is one."""
    few = replace(problem, max_paints=min(SIMPLE_PAINTS, problem.max_paints))
    tint = premixed(few, simple, paints)
    if tint is None:
        return []
    return [_Weighed.of(tint.found, tint.problem, tint.paints, brief, tint)]


def _penalties(problem: SearchProblem, paints: Sequence[Paint], brief: Brief) -> Floats:
    """What each paint must bring (n,): by the wishes, and as a painter is reluctant to take it."""
    wished = np.zeros(len(paints)) if problem.penalty is None else np.asarray(problem.penalty)
    own = [
        trouble(p, brief.medium, brief.target.clear) + (ORDINARY if is_toxic(p.refs) else 0.0)
        for p in paints
    ]
    return np.asarray(wished + own, dtype=np.float64)


def _laid(
    found: Proportions, paints: Sequence[Paint], tint: Premixed | None
) -> tuple[list[Paint], list[float]]:
    """The paints of a recipe and how much of each; a tint as the two paints it is made of."""
    chosen, shares = [paints[i] for i in found.indices], np.array(found.shares)
    if tint is not None:
        chosen, shares = tint.from_tubes(chosen, shares)
    return chosen, [float(n) for n in shares]


def _doubles(problem: SearchProblem, paints: Sequence[Paint]) -> tuple[int, ...]:
    """Rows of tubes whose pigments another, handier tube has: which is squeezed is no recipe.

    A required tube is kept; of the rest artist grade before student's, then the cheaper.
    """
    cost = prices(paints)
    family = families(paints)

    def handy(i: int) -> tuple[bool, bool, float, int]:
        tube = paints[i].tube
        student = tube is not None and tube.grade == "student"
        return i not in problem.must, student, 0.0 if cost is None else float(cost[i]), i

    kept: dict[int, int] = {}
    for i in sorted(range(len(paints)), key=handy):
        kept.setdefault(family[i], i)
    once = {*kept.values(), *problem.must}
    return tuple(i for i in range(len(paints)) if i not in once)


def _paints(found: Proportions, paints: Sequence[Paint]) -> int:
    """How many paints there are beside water."""
    return sum(not is_water(paints[i]) for i in found.indices)


def _counted(found: Proportions, paints: Sequence[Paint]) -> int:
    """How many daubs are counted out; water is poured."""
    parts = zip(found.indices, found.parts or (), strict=False)
    return sum(n for i, n in parts if not is_water(paints[i]))


def _same(a: Proportions, b: Proportions) -> bool:
    return list(a.indices) == list(b.indices) and np.allclose(a.shares, b.shares)


def _wished(found: Proportions, paints: Sequence[Paint], brief: Brief) -> float:
    """What the person's own wishes make a recipe cost."""
    chosen = [paints[i] for i in found.indices]
    each = penalties(chosen, brief.wishes)
    fewer = WORTH_A_PAINT * (len(chosen) - 1) if brief.wishes.fewer else 0.0
    return fewer + (0.0 if each is None else float(each.sum()))


def _beside(recipe: Recipe, nearest: _Weighed, choice: _Weighed, brief: Brief) -> Recipe:
    """The simple recipe with what it costs in colour beside the nearest, in words."""
    light = recipe.light
    there = lab_from_reflectance(nearest.found.reflectance, light)
    beside = ""
    if light == "D65" and choice.found.value > nearest.found.value:
        apart = float(delta_e_2000(np.asarray(recipe.colour.lab), there))
        beside = f"; beside the nearest recipe {seen_words(apart)}"
    if nearest.toxic and not choice.toxic:
        chosen = [nearest.paints[i] for i in nearest.found.indices]
        toxic = [p.name for p in chosen if is_toxic(p.refs)]
        beside += f"; the nearest holds {listing(toxic)}, which is toxic"
    return replace(
        recipe,
        kind="simplest" if choice.tint is None else "premixed",
        how_near=recipe.how_near + beside,
        words=recipe.words + beside,
    )
