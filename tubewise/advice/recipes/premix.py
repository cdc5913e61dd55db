"""Recipes in two steps: a tint of a paint so strong that whole parts cannot dose it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from tubewise.advice.recipes.steps import STRONG, strength
from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance
from tubewise.paints.appearance import appearance, mixed
from tubewise.paints.paint import Paint
from tubewise.pigments.trust import basis_of, least_sure
from tubewise.search.problem import Proportions, SearchProblem
from tubewise.search.recipes import search

# One part of the strong paint and this many of the light one. common practice, no source.
TINT_PARTS = 9
# CIEDE2000 a second step must bring to be worth the trouble. common practice, no source.
WORTH_A_STEP = 0.5


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Premixed:
    """A recipe that begins with a tint: 1 part of `strong` with `TINT_PARTS` of `body`.

    `found` is in rows of `paints`, the box with `tint` behind it, as `problem` was solved.
    """

    strong: Paint
    body: Paint
    tint: Paint
    paints: tuple[Paint, ...]
    problem: SearchProblem
    found: Proportions

    def from_tubes(self, chosen: Sequence[Paint], parts: Floats) -> tuple[list[Paint], Floats]:
        """The same mixture told in tubes: the tint's part divided between the two it is made of."""
        amounts: dict[int, float] = {}
        known: dict[int, Paint] = {}
        for paint, part in zip(chosen, parts, strict=True):
            shares = [(paint, float(part))]
            if paint is self.tint:
                small = float(part) / (1 + TINT_PARTS)
                shares = [(self.strong, small), (self.body, TINT_PARTS * small)]
            for paint, amount in shares:
                known[id(paint)] = paint
                amounts[id(paint)] = amounts.get(id(paint), 0.0) + amount
        return list(known.values()), np.round(np.array(list(amounts.values())), 3)

    @property
    def first(self) -> str:
        """The first step in words."""
        return f"first mix 1 part {self.strong.name} with {TINT_PARTS} parts {self.body.name}"


def tint_of(strong: Paint, body: Paint) -> Paint:
    """The tint as a paint of its own, its uncertainty drawn with that of both."""
    K, S = mixed([strong, body], [1.0, float(TINT_PARTS)])
    return Paint(
        f"tint of {strong.name}",
        None,
        tuple(dict.fromkeys((*strong.refs, *body.refs))),
        (),
        K,
        S,
        basis_of(strong.basis, body.basis),
        least_sure(strong.confidence, body.confidence),
    )


def premixed(
    problem: SearchProblem, whole: Proportions, paints: Sequence[Paint]
) -> Premixed | None:
    """A recipe in two steps that comes nearer than `whole`, the best in whole parts, or None.

    Looked for only where the freely proportioned recipe needs less of a strong paint than one part
    in all, and whole parts lose by it.
    """
    if problem.max_parts is None or whole.value <= WORTH_A_STEP:
        return None
    free = search(replace(problem, max_parts=None, prove=False, alternatives=0)).best
    if whole.value - free.value <= WORTH_A_STEP or len(free.indices) < 2:
        return None
    scant = [
        (share, i)
        for i, share in zip(free.indices, free.shares, strict=True)
        if share < 1.0 / problem.max_parts and strength(paints[i]) > STRONG
    ]
    if not scant:
        return None
    at = min(scant)[1]
    light = max((i for i in free.indices if i != at), key=lambda i: _lightness(paints[i]))
    tint = tint_of(paints[at], paints[light])
    with_tint = (*paints, tint)
    # A required tube that is in the tint is in the recipe.
    must = (*(i for i in problem.must if i not in (at, light)), len(paints))
    for most in (problem.max_paints, problem.max_paints - 1):
        if most < max(2, len(must)):
            break
        tinted = replace(
            problem,
            K=np.vstack([problem.K, tint.K[:1]]),
            S=np.vstack([problem.S, tint.S[:1]]),
            max_paints=most,
            must=must,
            family=None if problem.family is None else [*np.asarray(problem.family), -1],
            price=_with_tint(problem.price, at, light),
            penalty=_with_tint(problem.penalty, at, light),
            prove=False,
            alternatives=0,
        )
        found = replace(search(tinted).best, kind="premixed")
        tubes = {i for i in found.indices if i < len(paints)} | {at, light}
        if len(tubes) > problem.max_paints:
            continue
        if len(found.indices) < 2 or whole.value - found.value <= WORTH_A_STEP:
            return None
        return Premixed(
            strong=paints[at],
            body=paints[light],
            tint=tint,
            paints=with_tint,
            problem=tinted,
            found=found,
        )
    return None


def _lightness(paint: Paint) -> float:
    return float(lab_from_reflectance(appearance(paint.K[0], paint.S[0]))[0])


def _with_tint(values: object, strong: int, body: int) -> Floats | None:
    """Values of each paint (n,) with the tint's behind them (n + 1,)."""
    if values is None:
        return None
    each = np.asarray(values, dtype=np.float64)
    return np.append(each, (each[strong] + TINT_PARTS * each[body]) / (1 + TINT_PARTS))
