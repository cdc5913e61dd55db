"""Sets of paints in lexical order, some at a time, so that no time limit is far away."""

# Kernels take plain arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from tubewise.search.jit import jit

Sets = NDArray[np.int64]


@jit
def _fill(free, must, index, sets):
    """Fill `sets` (m, size) with the set at `index` (size,) and those after it; how many.

    `index` holds places in `free` behind those of `must`, moves on, and is -1 at the end.
    """
    r, size = must.size, sets.shape[1]
    count = 0
    while count < sets.shape[0] and index[size - 1] >= 0:
        for v in range(r):
            sets[count, v] = must[v]
        for v in range(r, size):
            sets[count, v] = free[index[v]]
        count += 1
        level = size - 1
        while level > r and index[level] >= free.size - (size - level):
            level -= 1
        if level <= r:
            index[size - 1] = -1
        else:
            index[level] += 1
            for v in range(level + 1, size):
                index[v] = index[v - 1] + 1
    return count


def of_different_families(sets: Sets, family: NDArray[np.int64]) -> Sets:
    """Those `sets` (m, size) whose members' `family` (n,) all differ."""
    each = np.sort(family[sets], axis=1)
    distinct: NDArray[np.bool_] = (each[:, 1:] != each[:, :-1]).all(axis=1)
    return np.ascontiguousarray(sets[distinct])


def how_many(family: NDArray[np.int64], must: tuple[int, ...], size: int) -> int:
    """How many sets of `size` paints hold all of `must` and no two of one `family` (n,)."""
    taken = {int(family[i]) for i in must}
    ways = [1] + [0] * size
    for kin, count in zip(*np.unique(family, return_counts=True), strict=True):
        if int(kin) in taken:
            continue
        for k in range(size, 0, -1):
            ways[k] += int(count) * ways[k - 1]
    return ways[size - len(must)]


def sets_from(
    first: int, free: NDArray[np.int64], must: NDArray[np.int64], size: int, at_once: int
) -> Iterator[Sets]:
    """Every set (m, size) of `must`, free[first] and later ones of `free`, `at_once` at a time.

    When `must` fills the set it comes alone, whatever `first`.
    """
    more = size - len(must)
    if more == 0:
        yield must[None].copy()
        return
    if first + more > len(free):
        return
    index = np.concatenate([np.zeros(len(must), np.int64), first + np.arange(more)])
    sets = np.empty((at_once, size), np.int64)
    while index[-1] >= 0:
        yield sets[: _fill(free, must, index, sets)].copy()
