"""Whole parts: every way to squeeze a set of paints in at most so many parts."""

# Kernels take plain float64 arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from functools import reduce

import numpy as np
from numpy.typing import NDArray

from tubewise.search.beam import Pool, penalties, spread
from tubewise.search.jit import jit
from tubewise.search.kernels import BANDS, reflectance, value_of_reflectance
from tubewise.search.problem import Prepared


@jit
def _gcd(parts):
    g = 0
    for p in parts:
        a, b = g, p
        while b:
            a, b = b, a % b
        g = a
    return g


@jit
def parts_value(K, S, rows, parts, medium, ground, W, target, goal, work, lab):
    """The objective of whole parts (k,) of paints `rows` (k,); `work` (3, 36) is overwritten."""
    k = rows.size
    total = 0
    for i in range(k):
        total += parts[i]
    for w in range(BANDS):
        work[0, w] = 0.0
        work[1, w] = 0.0
    for i in range(k):
        share = parts[i] / total
        for w in range(BANDS):
            work[0, w] += share * K[rows[i], w]
            work[1, w] += share * S[rows[i], w]
    reflectance(work[0], work[1], medium, ground, work[2])
    return value_of_reflectance(work[2], W, target, goal, lab)


@jit
def best_parts(K, S, sets, most, floor, medium, ground, W, target, goal, values, out):
    """For each set (m, k): the best whole parts >= 1 of total <= `most`, by full enumeration.

    Fills `values` (m,) and `out` (m, k). Only parts without a common divisor are tried, so the
    smallest total of a mixture is the one found; of equals the first by total, then by parts.
    """
    m, k = sets.shape
    parts = np.ones(k, np.int64)
    work = np.empty((3, BANDS))
    lab = np.empty((W.shape[0], 3))
    for r in range(m):
        values[r] = np.inf
        for total in range(k, most + 1):
            # Compositions of `total` into k parts, in lexical order.
            for i in range(k):
                parts[i] = 1
            parts[k - 1] = total - (k - 1)
            while True:
                smallest = parts[0]
                for i in range(1, k):
                    smallest = min(smallest, parts[i])
                if smallest >= floor * total - 1e-9 and _gcd(parts) == 1:
                    value = parts_value(
                        K, S, sets[r], parts, medium, ground, W, target, goal, work, lab
                    )
                    if value < values[r] - 1e-12:
                        values[r] = value
                        for i in range(k):
                            out[r, i] = parts[i]
                j = k - 2
                while j >= 0:
                    rest = 0
                    for i in range(j + 1, k):
                        rest += parts[i]
                    if rest > k - 1 - j:
                        break
                    j -= 1
                if j < 0:
                    break
                parts[j] += 1
                head = 0
                for i in range(j + 1):
                    head += parts[i]
                for i in range(j + 1, k):
                    parts[i] = 1
                parts[k - 1] = total - head - (k - 2 - j)
        # A set that admits no whole parts keeps an infinite value.


def in_whole_parts(problem: Prepared, pool: Pool) -> tuple[Pool, NDArray[np.int64]]:
    """The best whole parts of every set of a pool: the pool with those shares, and parts (m, k)."""
    most = problem.ask.max_parts
    assert most is not None
    sets = np.ascontiguousarray(pool.sets)
    values = np.empty(len(sets))
    parts = np.ones(sets.shape, dtype=np.int64)

    def run(r: int) -> None:
        best_parts(
            problem.K,
            problem.S,
            sets[r : r + 1],
            most,
            problem.ask.min_share,
            *problem.args,
            values[r : r + 1],
            parts[r : r + 1],
        )

    list(spread(run, range(len(sets))))
    ok = np.isfinite(values)
    costs = values + penalties(problem, sets)
    shares = parts / parts.sum(axis=1, keepdims=True)
    return Pool(sets[ok], shares[ok], values[ok], costs[ok]), parts[ok]


def reduced(parts: tuple[int, ...]) -> tuple[int, ...]:
    """Parts without a common divisor."""
    divisor = reduce(math.gcd, parts)
    return tuple(p // divisor for p in parts)
