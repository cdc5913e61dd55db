"""The vertices of the screen's regions, in single precision."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tubewise.search.jit import inlined_finite, jit_allocating, jit_finite
from tubewise.search.kernels.layout import Indices

Singles = NDArray[np.float32]

# 36 bands, filled up with weightless ones to whole vectors of eight.
WIDE = 40
# What a row of `Vertices.X` holds: K, S, N = S/mean, 1/N, q = K/S and reflectance.
K_, S_, N_, OVER_N, Q_, R_ = 0, 1, 2, 3, 4, 5
FIELDS = 6
LARGEST = 4
# Regions are not cut more often than this, and a level of the tree may fill so many rows.
DEEPEST = 36
ROWS_A_LEVEL = 4

f4 = np.float32
ZERO, HALF, ONE, TWO = f4(0.0), f4(0.5), f4(1.0), f4(2.0)
NONE = f4(-1e30)
TINY = f4(1e-12)


class Vertices(NamedTuple):
    """Mixtures: the paints in units of strength first, then room for others.

    `X` (rows, FIELDS, WIDE); `mean` S (rows,); `t` (rows, illuminants, 3): the colour in whitened
    space; `along` (rows, kept): its place along the normals of the planes mostly of use; `origin`
    (rows, 4): the two rows it was mixed from, each with its share.
    """

    X: Singles
    mean: Singles
    t: Singles
    along: Singles
    origin: Singles

    def copy(self) -> Vertices:
        """The same, for one thread's use."""
        return Vertices(*(array.copy() for array in self))


class Sight(NamedTuple):
    """How a mixture is seen, and the directions in which its place is wanted.

    `surface` (3,): 1 - k2, (1 - k1)(1 - k2) and base; `whiten` (illuminants, 4, WIDE): weights of
    the bands for the three whitened coordinates, and in the last row their zeros. `normals` (3,
    planes) and `illuminant` (planes,) of the table's planes, those mostly of use first; `starts`
    (illuminants + 1,): where each illuminant's begin among these.
    """

    surface: Singles
    whiten: Singles
    normals: Singles
    illuminant: Indices
    starts: Indices


@inlined_finite
def mix(at, i, j, share_i, share_j, vertices, sight):
    """Row `at` of the vertices: a mixture of rows `i` and `j`, shares in units of strength."""
    X, mean, t, whiten = vertices.X, vertices.mean, vertices.t, sight.whiten
    k2c, gain, base = sight.surface[0], sight.surface[1], sight.surface[2]
    scale = ONE / (share_i + share_j)
    share_i *= scale
    share_j *= scale
    m = share_i * mean[i] + share_j * mean[j]
    mean[at] = m
    over = ONE / m
    t0, t1, t2 = -whiten[0, 3, 0], -whiten[0, 3, 1], -whiten[0, 3, 2]
    for w in range(WIDE):
        k = share_i * X[i, K_, w] + share_j * X[j, K_, w]
        s = share_i * X[i, S_, w] + share_j * X[j, S_, w]
        f = m / s
        r = k * f * over
        h = base + gain / (r + k2c + math.sqrt(r * (r + TWO)))
        X[at, K_, w] = k
        X[at, S_, w] = s
        X[at, N_, w] = s * over
        X[at, OVER_N, w] = f
        X[at, Q_, w] = r
        X[at, R_, w] = h
        t0 += whiten[0, 0, w] * h
        t1 += whiten[0, 1, w] * h
        t2 += whiten[0, 2, w] * h
    for illuminant in range(whiten.shape[0]):
        if illuminant > 0:
            t0, t1, t2 = (
                -whiten[illuminant, 3, 0],
                -whiten[illuminant, 3, 1],
                -whiten[illuminant, 3, 2],
            )
            for w in range(WIDE):
                h = X[at, R_, w]
                t0 += whiten[illuminant, 0, w] * h
                t1 += whiten[illuminant, 1, w] * h
                t2 += whiten[illuminant, 2, w] * h
        t[at, illuminant, 0] = t0
        t[at, illuminant, 1] = t1
        t[at, illuminant, 2] = t2
        for p in range(sight.starts[illuminant], sight.starts[illuminant + 1]):
            along = t0 * sight.normals[0, p] + t1 * sight.normals[1, p] + t2 * sight.normals[2, p]
            vertices.along[at, p] = along
    vertices.origin[at, 0] = i
    vertices.origin[at, 1] = share_i
    vertices.origin[at, 2] = j
    vertices.origin[at, 3] = share_j


@jit_finite
def place_first(n, vertices, sight):
    """Fill the first `n` rows, whose K and S are the paints'."""
    for i in range(n):
        mix(i, i, i, HALF, HALF, vertices, sight)


@jit_allocating
def middle_amounts(n, rows, nodes, origin, b):
    """Amounts `b` (k,) of the paints `rows` (k,) in the middle of a region of vertices `nodes`.

    `n`: how many rows of the vertices are paints; `origin`: see `Vertices`.
    """
    k = rows.size
    amounts = np.zeros(origin.shape[0])
    for v in range(k):
        amounts[nodes[v]] += 1.0
    # Rows are mixed from rows of higher levels, which lie before them, or from paints.
    for q in range(amounts.size - 1, n - 1, -1):
        if amounts[q] > 0.0:
            amounts[int(origin[q, 0])] += amounts[q] * origin[q, 1]
            amounts[int(origin[q, 2])] += amounts[q] * origin[q, 3]
    total = 0.0
    for v in range(k):
        total += amounts[rows[v]]
    for v in range(k):
        b[v] = amounts[rows[v]] / total
