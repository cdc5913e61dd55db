"""The first, unproved answer: good pairs, grown paint by paint."""

from __future__ import annotations

import numpy as np

from tubewise.search.kernels.pairs import scan_pairs
from tubewise.search.pools import Pool, finish, joined, penalties, without_doubles
from tubewise.search.prepared import Prepared
from tubewise.search.threads import spread

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


def singles(problem: Prepared) -> Pool:
    """Every paint by itself."""
    sets = np.arange(len(problem.paints.K))[:, None]
    return finish(problem, sets, np.ones((len(sets), 1)))


def pairs(problem: Prepared, keep: int) -> Pool:
    """The best pairs, and every paint's best pair, polished."""
    n = len(problem.paints.K)
    out = np.full((n, n, 2), np.inf)

    def run(i: int) -> None:
        scan_pairs(
            problem.paints,
            STATIONS if n <= LARGE_BOX else FEW_STATIONS,
            float(problem.ask.min_share),
            problem.film,
            problem.aim,
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
    n = len(problem.paints.K)
    pool = pool.top(max(FEWEST_GROWN, MOST_TRIED // n))
    m, k = pool.sets.shape
    base = np.repeat(pool.sets, n, axis=0)
    new = np.tile(np.arange(n), m)
    fresh = (problem.family[base] != problem.family[new][:, None]).all(axis=1)
    sets = np.concatenate([base, new[:, None]], axis=1)[fresh]
    old = np.repeat(pool.shares, n, axis=0)[fresh]
    pools = []
    for start in NEW_AMOUNTS:
        amount = old / problem.paints.unit[sets[:, :k]]
        amount *= (1.0 - start) / amount.sum(axis=1, keepdims=True)
        amount = np.concatenate([amount, np.full((len(sets), 1), start)], axis=1)
        shares = amount * problem.paints.unit[sets]
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
            start = problem.paints.unit[list(problem.must)]
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
