"""Reflectance of a film of paint from its K and S, and the slopes in both."""

# Kernels take the types of `layout`; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math

from tubewise.search.jit import jit
from tubewise.search.kernels.layout import BANDS

# Below this the slope of reflectance in K at K = 0 is cut off: it is infinite in theory.
ROOT_FLOOR = 1e-7
# Added where all of K and S may be 0, far below anything that counts.
NOTHING = 1e-300


@jit
def reflectance(K, S, film, out):
    """Measured reflectance of one `Film` of paint with `K`, `S` (36,), into `out` (36,).

    Kubelka & Munk 1931 (opaque), Kubelka 1948 (over a ground), Saunderson 1942 (surface), joined so
    that no digits are lost; as `tubewise.optics.film` and `tubewise.optics.surface` say them apart.
    """
    k2, gain, base, X, ground = film.k2, film.gain, film.base, film.thickness, film.ground
    if X <= 0.0:
        for w in range(BANDS):
            root = math.sqrt(K[w] * (K[w] + 2.0 * S[w]))
            out[w] = base + gain * S[w] / (K[w] + (1.0 - k2) * S[w] + root + NOTHING)
        return
    for w in range(BANDS):
        beta = math.sqrt(K[w] * (K[w] + 2.0 * S[w]))
        z = beta * X
        y = (1.0 + z * z / 3.0) / X if z < 1e-3 else beta / math.tanh(z)
        g = ground[w]
        R = (S[w] - g * (K[w] + S[w] - y)) / (K[w] + S[w] - g * S[w] + y)
        out[w] = base + gain * R / (1.0 - k2 * R)


@jit
def reflectance_slopes(K, S, film, out, dK, dS):
    """As `reflectance`, and its partial derivatives in K and S, all (36,)."""
    if film.thickness <= 0.0:
        _opaque_slopes(K, S, film, out, dK, dS)
    else:
        _film_slopes(K, S, film, out, dK, dS)


@jit
def _opaque_slopes(K, S, film, out, dK, dS):
    k2, gain, base = film.k2, film.gain, film.base
    for w in range(BANDS):
        root = math.sqrt(K[w] * (K[w] + 2.0 * S[w]))
        P = K[w] + (1.0 - k2) * S[w] + root + NOTHING
        steep = max(root, ROOT_FLOOR * (K[w] + S[w]) + NOTHING)
        out[w] = base + gain * S[w] / P
        slope = gain / (P * P) * (1.0 + (K[w] + S[w]) / steep)
        dK[w] = -slope * S[w]
        dS[w] = slope * K[w]


@jit
def _film_slopes(K, S, film, out, dK, dS):
    k2, gain, base, X, ground = film.k2, film.gain, film.base, film.thickness, film.ground
    for w in range(BANDS):
        beta = math.sqrt(K[w] * (K[w] + 2.0 * S[w]))
        z = beta * X
        if z < 1e-3:
            y = (1.0 + z * z / 3.0) / X
            phi = X * 2.0 / 3.0
        elif z > 300.0:
            y = beta
            phi = 1.0 / beta
        else:
            t = math.tanh(z)
            sh = math.sinh(z)
            y = beta / t
            phi = (1.0 / t - z / (sh * sh)) / beta
        g = ground[w]
        N = S[w] - g * (K[w] + S[w] - y)
        D = K[w] + S[w] - g * S[w] + y
        yK = (K[w] + S[w]) * phi
        yS = K[w] * phi
        R = N / D
        RK = (-g * (1.0 - yK) - R * (1.0 + yK)) / D
        RS = (1.0 - g * (1.0 - yS) - R * (1.0 - g + yS)) / D
        q = 1.0 - k2 * R
        out[w] = base + gain * R / q
        dK[w] = gain / (q * q) * RK
        dS[w] = gain / (q * q) * RS
