"""Bands nobody read take the values of the nearest that were."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import N_BANDS


def nearest(good: NDArray[np.bool_]) -> NDArray[np.int_]:
    """For each band of the grid, the nearest that `good` (36,) marks as read."""
    fitted = np.flatnonzero(good)
    return np.asarray(fitted[np.abs(fitted[:, None] - np.arange(N_BANDS)).argmin(axis=0)])


def away(good: NDArray[np.bool_]) -> Floats:
    """How far (36,) each band lies from the nearest read, as a standard error of ln K and ln S.

    A hundred nanometres beyond the last reading little more than a guess is left.
    """
    return np.asarray(np.abs(nearest(good) - np.arange(N_BANDS)) / 10.0)


def carried(values: Floats, good: NDArray[np.bool_]) -> Floats:
    """Values (36, ...) with those of unread bands taken from the nearest read."""
    return np.asarray(values[nearest(good)])
