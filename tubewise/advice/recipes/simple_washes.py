"""Washes somebody would mix: paints in parts that can be counted, thinned by whole parts of water.

Nobody counts sixteen to five to three with twenty-one of water. Three to one is mixed, and the
puddle thinned: 1 paint : 6 water.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from math import gcd

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance
from tubewise.paints.wash import wash
from tubewise.search.problem import Proportions, SearchProblem

# Parts of water to one of paint, from neat to the palest that is mixed by parts.
# common practice, no source.
WATERS = (0, 0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 18, 20, 24, 30)


def counted_washes(
    problem: SearchProblem, near: Sequence[Proportions], water: int, parts: int, light: str
) -> Iterator[Proportions]:
    """Each set of paints of `near` in the best parts of at most so many, and the best water.

    `water` is its row in the problem; a set that needs none is laid neat. Sets that hold nothing
    but water are passed over.
    """
    K, S = np.asarray(problem.K), np.asarray(problem.S)
    target = np.asarray(problem.target_lab, dtype=np.float64).reshape(-1, 3)[0]
    must = set(problem.must)
    sets = {tuple(sorted(i for i in recipe.indices if i != water)) for recipe in near}
    for rows in sorted(s for s in sets if s and must <= {*s, water}):
        ways = _ways(len(rows), parts)
        shares = ways / ways.sum(axis=1, keepdims=True)
        thinned = np.array(WATERS, dtype=np.float64)
        if water in must:
            thinned = thinned[1:]
        R = wash(shares @ K[list(rows)], shares @ S[list(rows)], thinned[:, None])
        lab = lab_from_reflectance(R, light)
        least = shares.min(axis=1) / (1.0 + thinned[:, None])
        # Half a part of water to one of paint is whole where the paint's parts are even.
        broken = (thinned[:, None] * ways.sum(axis=1)) % 1.0 > 0.0
        misses = np.where(broken | (least < problem.min_share), np.inf, delta_e_2000(lab, target))
        w, r = np.unravel_index(int(np.argmin(misses)), misses.shape)
        if np.isfinite(misses[w, r]):
            seen = R[w, r], lab[w, r], float(misses[w, r])
            yield _as_found(rows, ways[r], float(thinned[w]), water, problem, seen)


def _ways(count: int, parts: int) -> Floats:
    """Every way (n, count) to squeeze paints in at most so many parts, none a multiple."""
    ways = [
        way
        for way in product(range(1, parts + 1), repeat=count)
        if sum(way) <= parts and gcd(*way) == 1
    ]
    return np.array(ways, dtype=np.float64)


def _as_found(
    rows: tuple[int, ...],
    way: Floats,
    thinned: float,
    water: int,
    problem: SearchProblem,
    seen: tuple[Floats, Floats, float],
) -> Proportions:
    """A wash as the search would hand it over, largest share first."""
    R, lab, miss = seen
    each = [(int(n), row) for n, row in zip(way, rows, strict=True)]
    if thinned:
        each.append((int(thinned * way.sum()), water))
    each.sort(key=lambda part: -part[0])
    total = sum(n for n, _ in each)
    penalty = np.zeros(len(problem.K)) if problem.penalty is None else np.asarray(problem.penalty)
    extra = float(penalty[[row for _, row in each]].sum()) + problem.per_paint * (len(each) - 1)
    return Proportions(
        indices=tuple(row for _, row in each),
        shares=tuple(n / total for n, _ in each),
        parts=tuple(n for n, _ in each),
        value=float(miss),
        cost=float(miss) + extra,
        lab=np.asarray(lab)[None],
        delta_e00=np.array([miss]),
        reflectance=R,
    )
