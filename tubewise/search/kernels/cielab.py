"""CIELAB of a reflectance, ISO/CIE 11664-4, and its slopes."""

# Kernels take the types of `layout`; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from tubewise.search.jit import jit
from tubewise.search.kernels.layout import BANDS

EPSILON = 216.0 / 24389.0
KAPPA = 24389.0 / 27.0
# Ratios to the white above this are no reflectance of a paint; the cube root is made for less.
BRIGHTEST = 1.3


@jit
def _cube_root(x):
    """Cube root of 216/24389..1.3 to the last digit or two; divisions only, so it vectorises.

    A rational start good to 0.7 % (fitted by least squares) and two steps of Halley's method.
    """
    y = (0.135391 + x * (14.063213 + x * 41.628692)) / (1.0 + x * (29.646363 + x * 25.047084))
    y3 = y * y * y
    y = y * (y3 + 2.0 * x) / (2.0 * y3 + x)
    y3 = y * y * y
    return y * (y3 + 2.0 * x) / (2.0 * y3 + x)


@jit
def compressed(x):
    """The function f of ISO/CIE 11664-4 of a ratio to the white."""
    return _cube_root(min(x, BRIGHTEST)) if x > EPSILON else (KAPPA * x + 16.0) / 116.0


@jit
def expanded(f):
    """The ratio to the white whose `compressed` is `f`."""
    return f * f * f if f > 6.0 / 29.0 else (116.0 * f - 16.0) / KAPPA


@jit
def compressed_slope(x):
    """The slope of `compressed`."""
    if x <= EPSILON:
        return KAPPA / 116.0
    y = _cube_root(min(x, BRIGHTEST))
    return 1.0 / (3.0 * y * y)


@jit
def lab_of(x, y, z):
    """CIELAB of the ratios X/Xn, Y/Yn, Z/Zn."""
    fx, fy, fz = compressed(x), compressed(y), compressed(z)
    return 116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)


@jit
def ratios(R, W, illuminant):
    """X/Xn, Y/Yn, Z/Zn of `R` (36,); `W` (illuminants, 3, 36): weights over the white."""
    x = 0.0
    y = 0.0
    z = 0.0
    for w in range(BANDS):
        x += W[illuminant, 0, w] * R[w]
        y += W[illuminant, 1, w] * R[w]
        z += W[illuminant, 2, w] * R[w]
    return x, y, z


@jit
def lab_slopes(x, y, z, Kv, Sv, dK, dS, W, illuminant, J):
    """Derivatives `J` (3, k) of CIELAB in the amounts of what has K and S `Kv`, `Sv` (k, 36).

    `x`, `y`, `z`: the ratios there; `dK`, `dS` (36,): the slopes of reflectance.
    """
    sx, sy, sz = compressed_slope(x), compressed_slope(y), compressed_slope(z)
    for i in range(Kv.shape[0]):
        X = 0.0
        Y = 0.0
        Z = 0.0
        for w in range(BANDS):
            d = dK[w] * Kv[i, w] + dS[w] * Sv[i, w]
            X += W[illuminant, 0, w] * d
            Y += W[illuminant, 1, w] * d
            Z += W[illuminant, 2, w] * d
        J[0, i] = 116.0 * sy * Y
        J[1, i] = 500.0 * (sx * X - sy * Y)
        J[2, i] = 200.0 * (sy * Y - sz * Z)
