"""The first, unproved answer: good pairs, grown paint by paint, each finished by Gauss-Newton."""

# Kernels take plain float64 arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
import threading
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from itertools import pairwise
from os import cpu_count
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from tubewise.search.jit import jit
from tubewise.search.kernels import BANDS, _f, delta_e
from tubewise.search.polish import amounts_of, corners, polish, shares_of, value_at
from tubewise.search.problem import Floats, Prepared

# Places along a pair, in units of strength, where its best proportion is first looked for.
STATIONS = np.array([0.02, 0.08, 0.18, 0.32, 0.5, 0.68, 0.82, 0.92, 0.98])
FEW_STATIONS = np.array([0.06, 0.25, 0.5, 0.75, 0.94])
# Boxes above this many paints are looked over at the few stations only.
LARGE_BOX = 400
# Amounts, in units of strength, of a paint added to a set.
NEW_AMOUNTS = (0.06, 0.4)
# In a large box fewer sets are grown, so that about so many are tried.
MOST_TRIED, FEWEST_GROWN = 30_000, 24
# A recipe this near the target cannot be bettered visibly: larger sets need not be grown.
REACHED = 1e-3
THREADS = min(8, cpu_count() or 1)
T = TypeVar("T")
A = TypeVar("A")


_here = threading.local()


def spread(work: Callable[[A], T], chunks: Iterable[A]) -> Iterator[T]:
    """Run a kernel over chunks on all processors; kernels release the interpreter lock.

    Within another `spread` the work is done where it is: the processors are busy already.
    """
    chunks = list(chunks)
    if THREADS == 1 or len(chunks) < 2 or getattr(_here, "busy", False):
        yield from map(work, chunks)
        return

    def marked(chunk: A) -> T:
        _here.busy = True
        return work(chunk)

    with ThreadPoolExecutor(THREADS) as pool:
        yield from pool.map(marked, chunks)


@jit
def opaque_pair(Kv, Sv, a, b, medium, W, target, enough):
    """CIEDE2000 of one opaque mixture of two corners under one light, or infinity above `enough`.

    Sums only, nothing stored within the loop over bands: that lets it be vectorised.
    """
    k2, gain, base = medium[0], medium[1], medium[2]
    x = 0.0
    y = 0.0
    z = 0.0
    for w in range(BANDS):
        Km = a * Kv[0, w] + b * Kv[1, w]
        Sm = a * Sv[0, w] + b * Sv[1, w]
        root = math.sqrt(Km * (Km + 2.0 * Sm))
        R = base + gain * Sm / (Km + (1.0 - k2) * Sm + root + 1e-300)
        x += W[0, 0, w] * R
        y += W[0, 1, w] * R
        z += W[0, 2, w] * R
    fx, fy, fz = _f(x), _f(y), _f(z)
    L = 116.0 * fy - 16.0
    # CIEDE2000 is never below its lightness term.
    middle = 0.5 * (L + target[0, 0]) - 50.0
    SL = 1.0 + 0.015 * middle * middle / math.sqrt(20.0 + middle * middle)
    if abs(L - target[0, 0]) / SL >= enough:
        return np.inf
    return delta_e(
        target[0, 0],
        target[0, 1],
        target[0, 2],
        L,
        500.0 * (fx - fy),
        200.0 * (fy - fz),
    )


@jit
def scan_pairs(K, S, unit, stations, floor, medium, ground, W, target, goal, first, stop, out):
    """The best of a few proportions of every pair (i, j), first <= i < stop, j > i.

    `out` (n, n, 2) receives the objective at [i, j, 0] and the share of i at [i, j, 1].
    """
    n = K.shape[0]
    simple = W.shape[0] == 1 and medium[3] <= 0.0 and math.isnan(goal[0])
    lab = np.empty((W.shape[0], 3))
    Kv = np.empty((2, BANDS))
    Sv = np.empty((2, BANDS))
    volume = np.empty((2, 2))
    rows = np.empty(2, np.int64)
    b = np.empty(2)
    shares = np.empty(2)
    for i in range(first, stop):
        for j in range(i + 1, n):
            rows[0], rows[1] = i, j
            best = np.inf
            corners(K, S, unit, rows, floor, Kv, Sv, volume)
            for t in stations:
                b[0], b[1] = 1.0 - t, t
                if simple:
                    value = opaque_pair(Kv, Sv, 1.0 - t, t, medium, W, target, best)
                else:
                    value = value_at(Kv, Sv, b, medium, ground, W, target, goal, lab)
                if value < best:
                    best = value
                    shares_of(b, volume, shares)
                    out[i, j, 1] = shares[0]
            out[i, j, 0] = best


@jit
def finish_sets(K, S, unit, sets, shares, floor, medium, ground, W, target, goal, rounds, values):
    """Polish every set (m, k) from its `shares` (m, k), both kept up to date; fills `values`."""
    m, k = sets.shape
    Kv = np.empty((k, BANDS))
    Sv = np.empty((k, BANDS))
    volume = np.empty((k, k))
    b = np.empty(k)
    for r in range(m):
        corners(K, S, unit, sets[r], floor, Kv, Sv, volume)
        amounts_of(shares[r], unit, sets[r], floor, b)
        values[r] = polish(Kv, Sv, b, medium, ground, W, target, goal, rounds)
        shares_of(b, volume, shares[r])


@dataclass(frozen=True, slots=True, eq=False)
class Pool:
    """Sets of one size (m, k) with ascending members, their shares (m, k), objectives and costs."""

    sets: NDArray[np.int64]
    shares: Floats
    values: Floats
    costs: Floats

    def top(self, m: int) -> Pool:
        """The m cheapest, best first."""
        order = np.argsort(self.costs, kind="stable")[:m]
        return Pool(self.sets[order], self.shares[order], self.values[order], self.costs[order])


def penalties(problem: Prepared, sets: NDArray[np.int64]) -> Floats:
    """What the wishes add to the objective of each set (m,)."""
    extra = problem.ask.per_paint * (sets.shape[1] - 1)
    return np.asarray(problem.penalty[sets].sum(axis=1) + extra, dtype=np.float64)


def finish(problem: Prepared, sets: NDArray[np.int64], shares: Floats, rounds: int = 40) -> Pool:
    """Polish many sets of one size from given shares."""
    sets = np.ascontiguousarray(sets)
    shares = np.ascontiguousarray(shares)
    values = np.empty(len(sets))
    floor = problem.ask.min_share
    cuts = np.linspace(0, len(sets), min(len(sets), 8 * THREADS) + 1).astype(int)

    def run(cut: tuple[int, int]) -> None:
        part = slice(*cut)
        finish_sets(
            problem.K,
            problem.S,
            problem.unit,
            sets[part],
            shares[part],
            floor,
            *problem.args,
            rounds,
            values[part],
        )

    list(spread(run, pairwise(cuts)))
    return Pool(sets, shares, values, values + penalties(problem, sets))


def singles(problem: Prepared) -> Pool:
    """Every paint by itself."""
    sets = np.arange(len(problem.K))[:, None]
    return finish(problem, sets, np.ones((len(sets), 1)))


def pairs(problem: Prepared, keep: int) -> Pool:
    """The best pairs, and every paint's best pair, polished."""
    n = len(problem.K)
    out = np.full((n, n, 2), np.inf)

    def run(i: int) -> None:
        scan_pairs(
            problem.K,
            problem.S,
            problem.unit,
            STATIONS if n <= LARGE_BOX else FEW_STATIONS,
            problem.ask.min_share,
            *problem.args,
            i,
            min(i + 4, n),
            out,
        )

    list(spread(run, range(0, n, 4)))
    i, j = np.triu_indices(n, 1)
    sets = np.stack([i, j], axis=1)
    values = out[i, j, 0]
    costs = values + penalties(problem, sets)
    costs[problem.family[i] == problem.family[j]] = np.inf
    chosen = set(np.argsort(costs, kind="stable")[:keep].tolist())
    full = np.full((n, n), np.inf)
    full[i, j] = full[j, i] = costs
    partner = full.argmin(axis=1)
    best_for_each = np.argsort(full.min(axis=1), kind="stable")[:keep]
    place = np.full((n, n), -1)
    place[i, j] = place[j, i] = np.arange(len(i))
    chosen |= {int(place[a, partner[a]]) for a in best_for_each}
    order = np.array([pair for pair in sorted(chosen) if np.isfinite(costs[pair])])
    first = out[i[order], j[order], 1]
    return finish(problem, sets[order], np.stack([first, 1.0 - first], axis=1))


def grown(problem: Prepared, pool: Pool, keep: int) -> Pool:
    """The best sets made of a set of the pool and one further paint.

    All are polished a little from two amounts of the new paint; the best few to the end.
    """
    n = len(problem.K)
    pool = pool.top(max(FEWEST_GROWN, MOST_TRIED // n))
    m, k = pool.sets.shape
    base = np.repeat(pool.sets, n, axis=0)
    new = np.tile(np.arange(n), m)
    fresh = (problem.family[base] != problem.family[new][:, None]).all(axis=1)
    sets = np.concatenate([base, new[:, None]], axis=1)[fresh]
    old = np.repeat(pool.shares, n, axis=0)[fresh]
    pools = []
    for start in NEW_AMOUNTS:
        amount = old / problem.unit[sets[:, :k]]
        amount *= (1.0 - start) / amount.sum(axis=1, keepdims=True)
        amount = np.concatenate([amount, np.full((len(sets), 1), start)], axis=1)
        shares = amount * problem.unit[sets]
        order = np.argsort(sets, axis=1)
        pools.append(
            finish(
                problem,
                np.take_along_axis(sets, order, 1),
                np.take_along_axis(shares / shares.sum(axis=1, keepdims=True), order, 1),
                rounds=3,
            )
        )
    best = without_doubles(joined(pools)).top(4 * keep)
    return finish(problem, best.sets, best.shares).top(keep)


def joined(pools: list[Pool]) -> Pool:
    """Pools of sets of one size as one."""
    return Pool(*(np.concatenate([getattr(p, f) for p in pools]) for f in Pool.__slots__))


def without_doubles(pool: Pool) -> Pool:
    """Only the best of each set."""
    order = np.lexsort((pool.costs, *pool.sets.T[::-1]))
    sets = pool.sets[order]
    keep = np.ones(len(order), dtype=bool)
    keep[1:] = (sets[1:] != sets[:-1]).any(axis=1)
    order = order[keep]
    return Pool(pool.sets[order], pool.shares[order], pool.values[order], pool.costs[order])


def feasible_sizes(problem: Prepared) -> range:
    """The numbers of paints a recipe may have."""
    largest = min(problem.ask.max_paints, len(np.unique(problem.family)))
    if problem.ask.min_share > 0.0:
        largest = min(largest, int(1.0 / problem.ask.min_share + 1e-9))
    if problem.ask.max_parts is not None:
        largest = min(largest, problem.ask.max_parts)
    return range(max(1, len(problem.must)), largest + 1)


def beam(problem: Prepared) -> dict[int, Pool]:
    """Good sets of every allowed size, polished: the incumbents of the proof."""
    width = problem.ask.beam
    pools: dict[int, Pool] = {}
    for k in feasible_sizes(problem):
        if k == len(problem.must):
            start = problem.unit[list(problem.must)]
            pools[k] = finish(problem, np.array([problem.must]), (start / start.sum())[None])
        elif k == 1:
            pools[k] = singles(problem).top(2 * width)
        elif k == 2 and not problem.must:
            pools[k] = pairs(problem, width)
        else:
            pools[k] = grown(problem, pools[k - 1], 2 * width).top(2 * width)
        reached = problem.ask.max_parts is None and float(pools[k].costs.min()) < REACHED
        if reached:
            break
    return pools
