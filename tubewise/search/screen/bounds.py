"""How far a region lies beyond a plane, at least: the scores of its vertices."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math

from tubewise.search.jit import jit_finite
from tubewise.search.screen.vertices import N_, ONE, OVER_N, Q_, R_, TINY, TWO, WIDE, ZERO


@jit_finite
def put_tangent(i0, i1, i2, i3, b0, b1, b2, b3, X, surface, tangent):
    """The mixture of four vertices with shares `b*`: q, reflectance and its slope into `tangent`.

    `tangent` (3, WIDE); `X`: see `Vertices`; `surface`: see `Sight`.
    """
    k2c, gain, base = surface[0], surface[1], surface[2]
    for w in range(WIDE):
        n0, n1, n2, n3 = b0 * X[i0, N_, w], b1 * X[i1, N_, w], b2 * X[i2, N_, w], b3 * X[i3, N_, w]
        q = n0 * X[i0, Q_, w] + n1 * X[i1, Q_, w] + n2 * X[i2, Q_, w] + n3 * X[i3, Q_, w]
        q /= n0 + n1 + n2 + n3
        root = math.sqrt(q * (q + TWO))
        over = ONE / (q + k2c + root)
        tangent[0, w] = q
        tangent[1, w] = base + gain * over
        tangent[2, w] = -gain * over * over * (ONE + (q + ONE) / (root + TINY))


@jit_finite
def score(i0, i1, i2, i3, bound, X, omega, tangent, scores):
    """Each vertex's score beyond the plane omega . R = `bound` into `scores` (4,); the least.

    `tangent` (3, WIDE): q, reflectance and slope of any mixture.
    """
    clear = -bound
    t0, t1, t2, t3 = ZERO, ZERO, ZERO, ZERO
    for w in range(WIDE):
        o = omega[w]
        clear += o * tangent[1, w]
        a = max(o, ZERO) * tangent[2, w]
        e = min(o, ZERO)
        c = -(a * tangent[0, w] + e * tangent[1, w])
        f0, f1, f2, f3 = X[i0, OVER_N, w], X[i1, OVER_N, w], X[i2, OVER_N, w], X[i3, OVER_N, w]
        low = min(min(f0, f1), min(f2, f3))
        high = max(max(f0, f1), max(f2, f3))
        v0 = (a * X[i0, Q_, w] + e * X[i0, R_, w] + c) * X[i0, N_, w]
        v1 = (a * X[i1, Q_, w] + e * X[i1, R_, w] + c) * X[i1, N_, w]
        v2 = (a * X[i2, Q_, w] + e * X[i2, R_, w] + c) * X[i2, N_, w]
        v3 = (a * X[i3, Q_, w] + e * X[i3, R_, w] + c) * X[i3, N_, w]
        t0 += min(v0 * low, v0 * high)
        t1 += min(v1 * low, v1 * high)
        t2 += min(v2 * low, v2 * high)
        t3 += min(v3 * low, v3 * high)
    scores[0] = clear + t0
    scores[1] = clear + t1
    scores[2] = clear + t2
    scores[3] = clear + t3
    return clear + min(min(t0, t1), min(t2, t3))


@jit_finite
def bend(i, j, X, omega, base):
    """How far the edge between two rows bends, counted with the plane's weights."""
    total = ZERO
    for w in range(WIDE):
        h0, h1 = X[i, R_, w], X[j, R_, w]
        d = h0 - h1
        total += abs(omega[w]) * d * d / (h0 + h1 - base)
    return total
