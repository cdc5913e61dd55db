"""A box of paints and how a film of them is seen, as the palette's kernels take it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.search.kernels.layout import Film
from tubewise.search.prepared import Prepared


class Paints(NamedTuple):
    """K, S (n, 36) in comparable amounts, and how a film of them is seen; see `reflectance`.

    `free`: the row of a paint always at hand (water), or -1.
    """

    K: Floats
    S: Floats
    film: Film
    W: Floats
    free: int


def paints_of(problem: Prepared, free: int = -1) -> Paints:
    """The paints of a prepared problem as these kernels take them; `free` is a row or -1."""
    unit = problem.paints.unit[:, None]
    return Paints(
        np.ascontiguousarray(problem.paints.K * unit),
        np.ascontiguousarray(problem.paints.S * unit),
        problem.film,
        problem.aim.W[0],
        free,
    )
