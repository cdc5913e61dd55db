"""Sets of paints in lexical order, made in place for the kernels that go through them all."""

# Kernels take plain arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from tubewise.advice.search.kernels import jit


@jit
def begin(first, free, must, index, rows):
    """The first set: `must`, free[first] and those after it, into `rows` (size,). False if none.

    `index` (size,) remembers the places in `free`. A `first` of -1 makes the one set `must`.
    """
    r = must.size
    for v in range(r):
        rows[v] = must[v]
    if first < 0:
        return r == rows.size
    if first + rows.size - r > free.size:
        return False
    for v in range(r, rows.size):
        index[v] = first + v - r
        rows[v] = free[index[v]]
    return True


@jit
def advance(free, must, index, rows):
    """The next set with the same first free member; False after the last."""
    r, size = must.size, rows.size
    level = size - 1
    while level > r:
        if index[level] < free.size - (size - level):
            index[level] += 1
            rows[level] = free[index[level]]
            for v in range(level + 1, size):
                index[v] = index[v - 1] + 1
                rows[v] = free[index[v]]
            return True
        level -= 1
    return False
