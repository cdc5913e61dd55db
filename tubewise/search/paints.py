"""A box of paints and how a film of them is seen, as the palette's kernels take it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.search.kernels.layout import Film
from tubewise.search.prepared import Prepared


class Paints(NamedTuple):
    """K, S (n, 36) in comparable amounts, and how a film of them is seen; see `reflectance`.

    `free`: the row of a paint always at hand (water), or -1. `unit` (n,): how much by volume the
    amounts are of; `least` 0..1: the smallest share by volume that counts among the paints that
    neither are free nor one of `thins` (n,), which are taken in any proportion.
    """

    K: Floats
    S: Floats
    film: Film
    W: Floats
    free: int
    unit: Floats
    least: float
    thins: NDArray[np.bool_]


def paints_of(problem: Prepared, free: int = -1, thins: Sequence[int] = ()) -> Paints:
    """The paints of a prepared problem as these kernels take them.

    `free` is a row or -1; `thins` are rows.
    """
    unit = problem.paints.unit[:, None]
    return Paints(
        np.ascontiguousarray(problem.paints.K * unit),
        np.ascontiguousarray(problem.paints.S * unit),
        problem.film,
        problem.aim.W[0],
        free,
        np.ascontiguousarray(problem.paints.unit),
        float(problem.ask.min_share),
        np.isin(np.arange(len(problem.paints.K)), list(thins)),
    )
