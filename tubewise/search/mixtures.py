"""Very many mixtures to CIELAB at once."""

# Kernels take plain float64 arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.search.jit import jit
from tubewise.search.kernels.cielab import lab_of
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.reflectance import NOTHING
from tubewise.search.threads import THREADS, spread

# Floating-point operations of one opaque mixture of k paints, counted in `_labs`: mixing 4k per
# band (two products, two sums), 13 for reflectance (with one root and one division), 6 for X, Y, Z;
# about 60 for CIELAB.
FLOPS_FIXED = BANDS * 19 + 60
FLOPS_EACH = BANDS * 4


@jit
def _labs(K, S, rows, shares, W, k2, gain, base, first, stop, out):
    """CIELAB of mixtures first..stop of opaque paint; see `labs_of_mixtures`."""
    k = rows.shape[1]
    for r in range(first, stop):
        x = 0.0
        y = 0.0
        z = 0.0
        # Sums only, nothing stored within the loop over bands: that lets it be vectorised. Four
        # paints at a time; missing ones have no share.
        i0, c0 = rows[r, 0], shares[r, 0]
        i1, i2, i3 = i0, i0, i0
        c1 = c2 = c3 = 0.0
        if k > 1:
            i1, c1 = rows[r, 1], shares[r, 1]
        if k > 2:
            i2, c2 = rows[r, 2], shares[r, 2]
        if k > 3:
            i3, c3 = rows[r, 3], shares[r, 3]
        for w in range(BANDS):
            Km = c0 * K[i0, w] + c1 * K[i1, w] + c2 * K[i2, w] + c3 * K[i3, w]
            Sm = c0 * S[i0, w] + c1 * S[i1, w] + c2 * S[i2, w] + c3 * S[i3, w]
            root = math.sqrt(Km * (Km + 2.0 * Sm))
            R = base + gain * Sm / (Km + (1.0 - k2) * Sm + root + NOTHING)
            x += W[0, w] * R
            y += W[1, w] * R
            z += W[2, w] * R
        out[r, 0], out[r, 1], out[r, 2] = lab_of(x, y, z)


def labs_of_mixtures(
    K: Floats,
    S: Floats,
    rows: NDArray[np.int64],
    shares: Floats,
    W: Floats,
    *,
    k1: float = 0.03,
    k2: float = 0.65,
    specular_included: bool = True,
) -> Floats:
    """CIELAB (m, 3) of m opaque mixtures of up to four paints each.

    `K`, `S` (n, 36); `rows` (m, k) pick the paints, `shares` (m, k) are their shares by volume;
    `W` (3, 36) ASTM weights over the white. ValueError beyond four paints.
    """
    if rows.ndim != 2 or not 1 <= rows.shape[1] <= 4 or rows.shape != shares.shape:
        raise ValueError("rows and shares must both be (m, k) with k from 1 to 4")
    out = np.empty((len(rows), 3))
    cuts = np.linspace(0, len(rows), 4 * THREADS + 1).astype(int)

    def run(cut: tuple[int, int]) -> None:
        base = k1 if specular_included else 0.0
        _labs(K, S, rows, shares, W, k2, (1 - k1) * (1 - k2), base, cut[0], cut[1], out)

    list(spread(run, pairwise(cuts.tolist())))
    return out
