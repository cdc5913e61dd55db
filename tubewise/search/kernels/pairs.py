"""Every pair of paints at a few proportions."""

# Kernels take the types of `layout`; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math

import numpy as np

from tubewise.search.jit import jit, jit_allocating
from tubewise.search.kernels.amounts import outermost, shares_of
from tubewise.search.kernels.ciede2000 import delta_e
from tubewise.search.kernels.cielab import lab_of
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.objective import value_at
from tubewise.search.kernels.reflectance import NOTHING


@jit
def opaque_pair(Kv, Sv, a, b, film, aim, enough):
    """CIEDE2000 of amounts `a`, `b` of two opaque paints, or infinity above `enough`.

    `Kv`, `Sv` (2, 36); under the first illuminant. Sums only, nothing stored within the loop over
    bands: that lets it be vectorised.
    """
    k2, gain, base, W = film.k2, film.gain, film.base, aim.W
    x = 0.0
    y = 0.0
    z = 0.0
    for w in range(BANDS):
        Km = a * Kv[0, w] + b * Kv[1, w]
        Sm = a * Sv[0, w] + b * Sv[1, w]
        root = math.sqrt(Km * (Km + 2.0 * Sm))
        R = base + gain * Sm / (Km + (1.0 - k2) * Sm + root + NOTHING)
        x += W[0, 0, w] * R
        y += W[0, 1, w] * R
        z += W[0, 2, w] * R
    L, p, q = lab_of(x, y, z)
    wanted = aim.lab[0, 0]
    # CIEDE2000 is never below its lightness term.
    middle = 0.5 * (L + wanted) - 50.0
    SL = 1.0 + 0.015 * middle * middle / math.sqrt(20.0 + middle * middle)
    if abs(L - wanted) / SL >= enough:
        return np.inf
    return delta_e(wanted, aim.lab[0, 1], aim.lab[0, 2], L, p, q)


@jit_allocating
def scan_pairs(paints, stations, floor, film, aim, first, stop, out):
    """The best of a few proportions of every pair (i, j), first <= i < stop, j > i.

    `stations`: amounts of j among both; `floor`: the smallest share. `out` (n, n, 2) receives the
    objective at [i, j, 0] and the share of i at [i, j, 1].
    """
    n = paints.K.shape[0]
    simple = aim.W.shape[0] == 1 and film.thickness <= 0.0 and math.isnan(aim.goal[0])
    work, lab = np.empty((3, BANDS)), np.empty((aim.W.shape[0], 3))
    Kv, Sv, volume = np.empty((2, BANDS)), np.empty((2, BANDS)), np.empty((2, 2))
    rows = np.empty(2, np.int64)
    b, shares = np.empty(2), np.empty(2)
    for i in range(first, stop):
        for j in range(i + 1, n):
            rows[0], rows[1] = i, j
            best = np.inf
            outermost(paints, rows, floor, Kv, Sv, volume)
            for t in stations:
                b[0], b[1] = 1.0 - t, t
                if simple:
                    value = opaque_pair(Kv, Sv, 1.0 - t, t, film, aim, best)
                else:
                    value = value_at(Kv, Sv, b, film, aim, work, lab)
                if value < best:
                    best = value
                    shares_of(b, volume, shares)
                    out[i, j, 1] = shares[0]
            out[i, j, 0] = best
