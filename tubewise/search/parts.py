"""The best whole parts of sets of paints."""

from __future__ import annotations

from math import comb

import numpy as np

from tubewise.search.kernels.layout import Indices
from tubewise.search.kernels.whole_parts import best_parts, near_parts
from tubewise.search.pools import Pool, penalties
from tubewise.search.prepared import Prepared
from tubewise.search.threads import spread

# So many whole parts of one set are all tried; of more, those next to its best shares.
ALL_TRIED = 5_000


def in_whole_parts(problem: Prepared, pool: Pool) -> tuple[Pool, Indices]:
    """The best whole parts of every set of a pool: the pool with those shares, and parts (m, k).

    Where there are very many, the best of those that round the pool's shares.
    """
    most = problem.ask.max_parts
    assert most is not None
    sets = np.ascontiguousarray(pool.sets)
    values = np.empty(len(sets))
    parts = np.ones(sets.shape, dtype=np.int64)

    floor = float(problem.ask.min_share)
    known = problem.paints, problem.film, problem.aim
    # As many as there are ways to part every total up to `most` among so many paints.
    few = comb(most, sets.shape[1]) <= ALL_TRIED
    shares = np.ascontiguousarray(pool.shares)

    def run(r: int) -> None:
        place = slice(r, r + 1)
        if few:
            best_parts(sets[place], most, floor, *known, values[place], parts[place])
        else:
            near_parts(sets[place], shares[place], most, floor, *known, values[place], parts[place])

    list(spread(run, range(len(sets))))
    ok = np.isfinite(values)
    costs = values + penalties(problem, sets)
    shares = parts / parts.sum(axis=1, keepdims=True)
    return Pool(sets[ok], shares[ok], values[ok], costs[ok]), parts[ok]
