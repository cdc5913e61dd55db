"""What a sweep over many sets of paints is told, and what it reports."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from typing import NamedTuple

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.search.jit import jit
from tubewise.search.kernels.layout import Indices


class Rules(NamedTuple):
    """What recipes cost beside their distance, and what is allowed.

    `extra`: the cost of the number of paints; `penalty` (n,): of each paint. `min_share` 0..1;
    `max_parts`: the largest total of whole parts, 0 for any proportions. A set is ruled out when it
    cannot be better by `tolerance`, and put aside after `budget` regions.
    """

    extra: float
    penalty: Floats
    min_share: float
    max_parts: int
    tolerance: float
    budget: int


class Report(NamedTuple):
    """The best recipe found in a sweep: `cost` (1,), `rows`, `shares`, `parts` (k,).

    `counts` (2,): regions visited and mixtures computed.
    """

    cost: Floats
    counts: Floats
    rows: Indices
    shares: Floats
    parts: Indices


def empty_report(size: int) -> Report:
    """A report of sets of `size` paints before anything is found."""
    return Report(
        np.full(1, np.inf),
        np.zeros(2),
        np.zeros(size, np.int64),
        np.zeros(size),
        np.ones(size, np.int64),
    )


@jit
def wishes_of(rows, rules):
    """What the wishes add to the distance of a recipe of the paints `rows` (k,)."""
    total = rules.extra
    for v in range(rows.size):
        total += rules.penalty[rows[v]]
    return total
