"""The vertices of regions, and everything that is known about each."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.search.balls import Balls
from tubewise.search.jit import jit
from tubewise.search.kernels.cielab import ratios
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.reflectance import reflectance
from tubewise.search.prepared import Prepared
from tubewise.search.problem import LARGEST_SET

# Regions are not cut more often than this.
DEEPEST = 60


class Vertices(NamedTuple):
    """Mixtures (rows, 36): the paints in units of strength first, then room for others.

    `K`, `S`; `N`: S over its mean; `q` = K/S; `R` measured reflectance; `slope`: of R in q; `t`
    (rows, illuminants, 3): the colour in the balls' whitened space.
    """

    K: Floats
    S: Floats
    N: Floats
    q: Floats
    R: Floats
    slope: Floats
    t: Floats


@jit
def whitened(x, y, z, illuminant, balls, out):
    """The ratios X/Xn, Y/Yn, Z/Zn in the balls' whitened space, into `out` (3,)."""
    A, centre = balls.A, balls.centre
    x -= centre[illuminant, 0]
    y -= centre[illuminant, 1]
    z -= centre[illuminant, 2]
    for c in range(3):
        out[c] = A[illuminant, c, 0] * x + A[illuminant, c, 1] * y + A[illuminant, c, 2] * z


@jit
def place(at, vertices, film, W, balls):
    """Fill everything known about row `at` of the `Vertices` from its K and S."""
    K, S, N, q = vertices.K[at], vertices.S[at], vertices.N[at], vertices.q[at]
    slope, R = vertices.slope[at], vertices.R[at]
    reflectance(K, S, film, R)
    k2, gain = film.k2, film.gain
    if film.thickness <= 0.0:
        mean = 0.0
        for w in range(BANDS):
            mean += S[w]
        mean = mean / BANDS + 1e-300
        least = 1e-12 * mean
        # Three short loops: each is vectorised, one long one is not.
        for w in range(BANDS):
            N[w] = (S[w] + least) / mean
        for w in range(BANDS):
            q[w] = K[w] / (S[w] + least)
        for w in range(BANDS):
            s = S[w] + least
            root = math.sqrt(K[w] * (K[w] + 2.0 * s))
            P = K[w] + (1.0 - k2) * s + root
            slope[w] = -gain * s * s / (P * P) * (1.0 + (K[w] + s) / max(root, 1e-12 * s))
    for i in range(W.shape[0]):
        x, y, z = ratios(R, W, i)
        whitened(x, y, z, i, balls, vertices.t[at, i])


@jit
def _place_first(n, vertices, film, W, balls):
    for at in range(n):
        place(at, vertices, film, W, balls)


def vertices_for(problem: Prepared, balls: Balls) -> Vertices:
    """The paints of a problem as vertices, with room for those of one set's regions."""
    n = len(problem.paints.K)
    rows = n + LARGEST_SET + DEEPEST + 2
    K, S, N, q, R, slope = (np.zeros((rows, BANDS)) for _ in range(6))
    K[:n] = problem.paints.K * problem.paints.unit[:, None]
    S[:n] = problem.paints.S * problem.paints.unit[:, None]
    vertices = Vertices(K, S, N, q, R, slope, np.zeros((rows, len(problem.aim.W), 3)))
    _place_first(n, vertices, problem.film, problem.aim.W, balls)
    return vertices
