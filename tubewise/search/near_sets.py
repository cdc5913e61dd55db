"""Which sets of at most three paints have a mixture within a stated difference of a target.

A set is near when a mixture of it was met within the difference. It is ruled out when all its
mixtures, cut into simplices, lie beyond planes that the ball of such colours doesn't reach: within
a simplex an opaque film's K/S, and so its reflectance, lies band by band between those of the
vertices; a film over a ground reflects less with more K and more with more S. What is neither by
the finest cut is left undecided, and whoever proves something must count it as near.

Where shares have a smallest, a simplex begins at mixtures that hold so much of every paint but
those that thin.
"""

# Kernels take plain float64 arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.search.aim import Aim, reach_along
from tubewise.search.jit import jit
from tubewise.search.kernels.ciede2000 import delta_e
from tubewise.search.kernels.cielab import lab_of
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.reflectance import reflectance
from tubewise.search.near_bounds import boxed_out, longest_edge, ruled_out
from tubewise.search.paints import Paints

FAR, NEAR, UNDECIDED = 0, 1, 2
# The finest cut: a simplex whose vertices differ by less, summed over the bands, is undecided.
FINEST = 0.004
# Below this difference of its vertices a simplex is also judged by the box around it in CIELAB.
SMALL = 0.4
# Vertices of one set before it is given up as undecided.
VERTICES = 4000
LARGEST = 3


class Work(NamedTuple):
    """Vertices, the paints themselves first, and the simplices still to be looked at.

    `alone` (n,): whether a paint alone is within the radius.
    """

    K: Floats
    S: Floats
    R: Floats
    t: Floats
    distance: Floats
    cells: NDArray[np.int64]
    cell: NDArray[np.int64]
    spare: Floats
    three: Floats
    rows: NDArray[np.int64]
    alone: NDArray[np.bool_]


def workspace(paints: Paints, aim: Aim) -> Work:
    """Room for examinations; its first vertices are the paints themselves."""
    n = len(paints.K)
    room = n + VERTICES
    work = Work(
        np.empty((room, BANDS)),
        np.empty((room, BANDS)),
        np.empty((room, BANDS)),
        np.empty((room, 3)),
        np.empty(room),
        np.empty((2 * VERTICES, LARGEST + 1), np.int64),
        np.empty(LARGEST + 1, np.int64),
        np.empty((4, BANDS)),
        np.empty((3, 3)),
        np.empty(LARGEST, np.int64),
        np.empty(n, np.bool_),
    )
    work.K[:n], work.S[:n] = paints.K, paints.S
    put_paints(paints, aim, work)
    return work


@jit
def put_paints(paints, aim, work):
    """Fill in the vertices of the paints themselves, and which of them alone is near."""
    for v in range(len(paints.K)):
        work.alone[v] = put_vertex(v, paints, aim, work)


@jit
def put_vertex(v, paints, aim, work):
    """Fill in what a vertex shows from its K and S; whether it is within the radius.

    Its `distance` is CIEDE2000 where that may be within the radius, else a length in t.
    """
    R = work.R[v]
    reflectance(work.K[v], work.S[v], paints.film, R)
    t = work.t[v]
    t0, t1, t2 = 0.0, 0.0, 0.0
    for w in range(BANDS):
        t0 += aim.bands[0, w] * R[w]
        t1 += aim.bands[1, w] * R[w]
        t2 += aim.bands[2, w] * R[w]
    t[0], t[1], t[2] = t0 - aim.centre[0], t1 - aim.centre[1], t2 - aim.centre[2]
    length = math.sqrt(t[0] * t[0] + t[1] * t[1] + t[2] * t[2])
    work.distance[v] = length
    if length > 1e-9 and length > reach_along(t[0], t[1], t[2], aim.reach) / length:
        return False
    ratio, lab = work.three[0], work.three[1]
    for i in range(3):
        ratio[i] = 0.0
        for w in range(BANDS):
            ratio[i] += paints.W[i, w] * R[w]
    lab[0], lab[1], lab[2] = lab_of(ratio[0], ratio[1], ratio[2])
    e = delta_e(aim.target[0], aim.target[1], aim.target[2], lab[0], lab[1], lab[2])
    return e <= aim.radius


@jit
def least_share(rows, size, a, b, paints):
    """Share of paint b of `rows` (size,) in the mixture nearest to paint a that counts."""
    if a == b:
        others = 0
        for c in range(size):
            others += c != a and not paints.thins[rows[c]]
        return 1.0 - others * paints.least
    return 0.0 if paints.thins[rows[b]] else paints.least


@jit
def put_corner(v, rows, size, a, paints, aim, work):
    """Fill in the mixture nearest to paint a of `rows` (size,) that has the least of the others.

    In the kernels' amounts, which add up to 1. Returns whether it is within the radius.
    """
    whole = 0.0
    for b in range(size):
        whole += least_share(rows, size, a, b, paints) / paints.unit[rows[b]]
    for w in range(BANDS):
        work.K[v, w], work.S[v, w] = 0.0, 0.0
    for b in range(size):
        amount = least_share(rows, size, a, b, paints) / paints.unit[rows[b]] / whole
        for w in range(BANDS):
            work.K[v, w] += amount * paints.K[rows[b], w]
            work.S[v, w] += amount * paints.S[rows[b], w]
    return put_vertex(v, paints, aim, work)


@jit
def examine(rows, size, paints, aim, work):
    """FAR, NEAR or UNDECIDED for the set `rows` (size,) with the free paint, if there is one.

    Where shares have a smallest, only mixtures of all the rows; smaller sets are asked apart.
    """
    corners, n = size, len(paints.K)
    for a in range(size):
        work.cells[0, a] = rows[a]
    if paints.free >= 0:
        work.cells[0, size] = paints.free
        corners += 1
    for a in range(corners):
        if work.alone[work.cells[0, a]]:
            return NEAR
    if corners == 1:
        return FAR
    met, waiting, verdict = n, 1, FAR
    if paints.least > 0.0:
        # Most sets are far with any shares, which costs less to see than to mix their corners.
        for a in range(corners):
            work.cell[a] = work.cells[0, a]
        if ruled_out(work.cell, corners, paints, aim, work):
            return FAR
        for a in range(size):
            if paints.thins[rows[a]]:
                continue
            if put_corner(met, rows, size, a, paints, aim, work):
                return NEAR
            work.cells[0, a] = met
            met += 1
    cell = work.cell
    while waiting > 0:
        waiting -= 1
        for a in range(corners):
            cell[a] = work.cells[waiting, a]
        if ruled_out(cell, corners, paints, aim, work):
            continue
        first, other, apart = longest_edge(cell, corners, work)
        if apart < SMALL and boxed_out(cell, corners, paints, aim, work):
            continue
        if met == n + VERTICES:
            return UNDECIDED
        if apart < FINEST:
            verdict = UNDECIDED
            continue
        for w in range(BANDS):
            work.K[met, w] = 0.5 * (work.K[cell[first], w] + work.K[cell[other], w])
            work.S[met, w] = 0.5 * (work.S[cell[first], w] + work.S[cell[other], w])
        if put_vertex(met, paints, aim, work):
            return NEAR
        # The half whose own vertex is nearer is looked at first.
        if work.distance[cell[first]] < work.distance[cell[other]]:
            first, other = other, first
        for half in range(2):
            for a in range(corners):
                work.cells[waiting, a] = cell[a]
            work.cells[waiting, other if half == 0 else first] = met
            waiting += 1
        met += 1
    return verdict


@jit
def verdict_of(i, j, k, memo, paints, aim, work):
    """FAR, NEAR or UNDECIDED for the set of rows i, j, k (repeats count once), kept in `memo`.

    `memo` (n, n, n) holds -1 where nobody asked yet. A set with a smaller near one is near.
    """
    if i > j:
        i, j = j, i
    if j > k:
        j, k = k, j
    if i > j:
        i, j = j, i
    if i == j:
        j = k
    if memo[i, j, k] >= 0:
        return memo[i, j, k]
    rows = work.rows
    rows[0], rows[1], rows[2] = i, j, k
    size = 1 if i == k else (2 if j == k else 3)
    memo[i, j, k] = examine(rows, size, paints, aim, work)
    return memo[i, j, k]


@jit
def makes_near(j, members, count, memo, paints, aim, work):
    """Whether row j, with at most two of `members`[:count], may come within the radius."""
    if verdict_of(j, j, j, memo, paints, aim, work) != FAR:
        return True
    for a in range(count):
        if verdict_of(j, members[a], members[a], memo, paints, aim, work) != FAR:
            return True
    for a in range(count):
        for b in range(a + 1, count):
            if verdict_of(j, members[a], members[b], memo, paints, aim, work) != FAR:
                return True
    return False


@jit
def grow(members, count, order, memo, paints, aim, work):
    """Add rows in `order` to `members`[:count] as long as surely nothing of them is near.

    What is there already must be known to be far. Returns the new count.
    """
    for j in order:
        if not makes_near(j, members, count, memo, paints, aim, work):
            members[count] = j
            count += 1
    return count


@jit
def best_of(members, count, memo, paints, aim, work, found):
    """NEAR when some set of at most three of `members`[:count] is near, else FAR or UNDECIDED.

    `found` (3,) receives the near set, or the last that could not be decided.
    """
    verdict = FAR
    for a in range(count):
        for b in range(a, count):
            for c in range(b, count):
                if a == b and c > b:
                    continue
                this = verdict_of(members[a], members[b], members[c], memo, paints, aim, work)
                if this != FAR:
                    verdict = this
                    found[0], found[1], found[2] = members[a], members[b], members[c]
                if this == NEAR:
                    return NEAR
    return verdict
