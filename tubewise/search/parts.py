"""The best whole parts of sets of paints."""

from __future__ import annotations

import numpy as np

from tubewise.search.kernels.layout import Indices
from tubewise.search.kernels.whole_parts import best_parts
from tubewise.search.pools import Pool, penalties
from tubewise.search.prepared import Prepared
from tubewise.search.threads import spread


def in_whole_parts(problem: Prepared, pool: Pool) -> tuple[Pool, Indices]:
    """The best whole parts of every set of a pool: the pool with those shares, and parts (m, k)."""
    most = problem.ask.max_parts
    assert most is not None
    sets = np.ascontiguousarray(pool.sets)
    values = np.empty(len(sets))
    parts = np.ones(sets.shape, dtype=np.int64)

    def run(r: int) -> None:
        best_parts(
            sets[r : r + 1],
            most,
            float(problem.ask.min_share),
            problem.paints,
            problem.film,
            problem.aim,
            values[r : r + 1],
            parts[r : r + 1],
        )

    list(spread(run, range(len(sets))))
    ok = np.isfinite(values)
    costs = values + penalties(problem, sets)
    shares = parts / parts.sum(axis=1, keepdims=True)
    return Pool(sets[ok], shares[ok], values[ok], costs[ok]), parts[ok]
