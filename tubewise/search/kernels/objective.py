"""How far a mixture is from what is wanted."""

# Kernels take the types of `layout`; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math

from tubewise.search.jit import jit
from tubewise.search.kernels.ciede2000 import delta_e
from tubewise.search.kernels.cielab import lab_of, ratios
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.reflectance import reflectance


@jit
def value_of_reflectance(R, aim, lab):
    """The objective of one reflectance (36,); `lab` (illuminants, 3) is filled; see `Aim`."""
    spectral = not math.isnan(aim.goal[0])
    worst = 0.0
    for i in range(aim.W.shape[0]):
        x, y, z = ratios(R, aim.W, i)
        L, a, b = lab_of(x, y, z)
        lab[i, 0], lab[i, 1], lab[i, 2] = L, a, b
        if not spectral:
            worst = max(worst, delta_e(aim.lab[i, 0], aim.lab[i, 1], aim.lab[i, 2], L, a, b))
    if not spectral:
        return worst
    total = 0.0
    for w in range(BANDS):
        d = R[w] - aim.goal[w]
        total += d * d
    return 100.0 * math.sqrt(total / BANDS)


@jit
def blend(Kv, Sv, b, Km, Sm):
    """K and S (36,) of amounts `b` (k,) of what has K and S `Kv`, `Sv` (k, 36)."""
    for w in range(BANDS):
        Km[w] = 0.0
        Sm[w] = 0.0
    for i in range(b.size):
        for w in range(BANDS):
            Km[w] += b[i] * Kv[i, w]
            Sm[w] += b[i] * Sv[i, w]


@jit
def value_at(Kv, Sv, b, film, aim, work, lab):
    """The objective of amounts `b` (k,) of `Kv`, `Sv` (k, 36).

    `lab` (illuminants, 3) is filled with the colour, `work` (3, 36) with K, S and reflectance.
    """
    blend(Kv, Sv, b, work[0], work[1])
    reflectance(work[0], work[1], film, work[2])
    return value_of_reflectance(work[2], aim, lab)
