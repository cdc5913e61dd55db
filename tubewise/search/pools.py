"""Sets of paints with the proportions found for them, each finished by Gauss-Newton."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from dataclasses import dataclass, fields
from itertools import pairwise

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.search.jit import jit_allocating
from tubewise.search.kernels.amounts import amounts_of, outermost, shares_of
from tubewise.search.kernels.layout import BANDS, Indices
from tubewise.search.kernels.polish import polish
from tubewise.search.prepared import Prepared
from tubewise.search.threads import THREADS, spread


@jit_allocating
def finish_sets(paints, sets, shares, floor, film, aim, rounds, values):
    """Polish every set (m, k) from its `shares` (m, k), both kept up to date; fills `values`."""
    m, k = sets.shape
    Kv, Sv, volume = np.empty((k, BANDS)), np.empty((k, BANDS)), np.empty((k, k))
    b = np.empty(k)
    for r in range(m):
        outermost(paints, sets[r], floor, Kv, Sv, volume)
        amounts_of(shares[r], paints.unit, sets[r], floor, b)
        values[r] = polish(Kv, Sv, b, film, aim, rounds)
        shares_of(b, volume, shares[r])


@dataclass(frozen=True, slots=True, eq=False)
class Pool:
    """Sets of one size (m, k) with ascending members, their shares (m, k), objectives and costs."""

    sets: Indices
    shares: Floats
    values: Floats
    costs: Floats

    def top(self, m: int) -> Pool:
        """The m cheapest, best first."""
        order = np.argsort(self.costs, kind="stable")[:m]
        return Pool(self.sets[order], self.shares[order], self.values[order], self.costs[order])


def penalties(problem: Prepared, sets: Indices) -> Floats:
    """What the wishes add to the objective of each set (m,)."""
    extra = problem.ask.per_paint * (sets.shape[1] - 1)
    return np.asarray(problem.penalty[sets].sum(axis=1) + extra, dtype=np.float64)


def finish(problem: Prepared, sets: Indices, shares: Floats, rounds: int = 40) -> Pool:
    """Polish many sets of one size from given shares."""
    sets = np.ascontiguousarray(sets)
    shares = np.ascontiguousarray(shares)
    values = np.empty(len(sets))
    floor = float(problem.ask.min_share)
    cuts = np.linspace(0, len(sets), min(len(sets), 8 * THREADS) + 1).astype(int)

    def run(cut: tuple[int, int]) -> None:
        part = slice(*cut)
        finish_sets(
            problem.paints,
            sets[part],
            shares[part],
            floor,
            problem.film,
            problem.aim,
            rounds,
            values[part],
        )

    list(spread(run, pairwise(cuts)))
    return Pool(sets, shares, values, values + penalties(problem, sets))


def joined(pools: list[Pool]) -> Pool:
    """Pools of sets of one size as one."""
    return Pool(
        *(np.concatenate([getattr(pool, each.name) for pool in pools]) for each in fields(Pool))
    )


def without_doubles(pool: Pool) -> Pool:
    """Only the best of each set."""
    order = np.lexsort((pool.costs, *pool.sets.T[::-1]))
    sets = pool.sets[order]
    keep = np.ones(len(order), dtype=bool)
    keep[1:] = (sets[1:] != sets[:-1]).any(axis=1)
    order = order[keep]
    return Pool(pool.sets[order], pool.shares[order], pool.values[order], pool.costs[order])
