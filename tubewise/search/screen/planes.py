"""The planes tried between a region and a ball: the table's best, then a neighbour of it."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from typing import NamedTuple

from tubewise.colour.arrays import Floats
from tubewise.search.jit import inlined_finite, jit_finite
from tubewise.search.kernels.layout import Indices
from tubewise.search.screen.bounds import put_tangent, score
from tubewise.search.screen.vertices import NONE, ONE, WIDE, ZERO, Sight, Singles, f4

# Rounding moves a score by less than this part of the plane's weights, summed.
SLACK = f4(5e-6)
# Vertices this near to the plane, in parts of the radius, no longer draw the tangent point further.
NEAR = f4(1e-3)
# How far, in parts of the radius, planes may be from clear and their neighbours still be tried.
TURN, TURN_SCORED = f4(-0.12), f4(-0.05)
# A score so many radii below zero is not mended by another plane.
HOPELESS = f4(-0.5)


class Tables(NamedTuple):
    """The planes of balls of falling `radii` (m,), which reach as far as `reach` (m, planes).

    `weights` (planes, WIDE), `zeros` (planes,): the planes over the bands; `slack` (planes,): see
    `SLACK`. `near_normals` (planes, 3, f), `near_reach` (m, planes, f): the neighbours of each.
    """

    sight: Sight
    radii: Floats
    reach: Singles
    weights: Singles
    zeros: Singles
    slack: Singles
    near_normals: Singles
    near_reach: Singles


class Room(NamedTuple):
    """Room for the tree of one set of paints.

    `nodes` (levels, 4): the vertices of each open region; `depth` (levels,). `omega` (WIDE,): the
    last plane tried; `scores` (4,) beyond it. `turned` (planes or neighbours,), `tangent` (3,
    WIDE), `rows` (4, 3), `shares` (4, 2) and `middle` (4,) are overwritten.
    """

    nodes: Indices
    depth: Indices
    turned: Singles
    omega: Singles
    tangent: Singles
    scores: Singles
    rows: Indices
    shares: Singles
    middle: Floats


@jit_finite
def pull(margin, near):
    """How strongly a vertex draws the tangent point: the more the nearer it is to the plane."""
    return ONE / (max(margin, ZERO) + near)


@jit_finite
def rest_of_table(i0, i1, i2, i3, ball, at, best, t, tables, kept):
    """The plane that keeps four vertices farthest off, and how far, among `at` and those not kept.

    Seldom needed: only where the planes mostly of use don't part region and ball. `t`: see
    `Vertices`.
    """
    normals, reach = tables.sight.normals, tables.reach
    for p in range(kept, normals.shape[1]):
        illuminant = tables.sight.illuminant[p]
        least = -NONE
        for i in (i0, i1, i2, i3):
            here = t[i, illuminant, 0] * normals[0, p]
            here += t[i, illuminant, 1] * normals[1, p] + t[i, illuminant, 2] * normals[2, p]
            least = min(least, here - reach[ball, p])
        if least > best:
            best = least
            at = p
    return at, best


@inlined_finite
def table_plane(i0, i1, i2, i3, ball, vertices, tables, turned):
    """The table's plane that keeps four vertices farthest off a ball: (which, how far at least)."""
    along, reach = vertices.along, tables.reach
    kept = along.shape[1]
    for p in range(kept):
        turned[p] = (
            min(min(along[i0, p], along[i1, p]), min(along[i2, p], along[i3, p])) - reach[ball, p]
        )
    best = NONE
    at = 0
    for p in range(kept):
        best = max(best, turned[p])
    for p in range(kept):
        at = p if turned[p] >= best else at
    if best <= ZERO:
        at, best = rest_of_table(i0, i1, i2, i3, ball, at, best, vertices.t, tables, kept)
    return at, best


@inlined_finite
def neighbour(i0, i1, i2, i3, l0, l1, l2, l3, at, ball, illuminant, vertices, tables, turned):
    """The neighbour of the table's plane `at` that should do best: (which, how far at least).

    Should every vertex lose along it what it lost along `at`: `l0` to `l3`.
    """
    t, near_normals, near_reach = vertices.t, tables.near_normals, tables.near_reach
    x0, y0, z0 = t[i0, illuminant, 0], t[i0, illuminant, 1], t[i0, illuminant, 2]
    x1, y1, z1 = t[i1, illuminant, 0], t[i1, illuminant, 1], t[i1, illuminant, 2]
    x2, y2, z2 = t[i2, illuminant, 0], t[i2, illuminant, 1], t[i2, illuminant, 2]
    x3, y3, z3 = t[i3, illuminant, 0], t[i3, illuminant, 1], t[i3, illuminant, 2]
    count = near_reach.shape[2]
    for f in range(count):
        p, q, r = near_normals[at, 0, f], near_normals[at, 1, f], near_normals[at, 2, f]
        v0 = x0 * p + y0 * q + z0 * r - l0
        v1 = x1 * p + y1 * q + z1 * r - l1
        v2 = x2 * p + y2 * q + z2 * r - l2
        v3 = x3 * p + y3 * q + z3 * r - l3
        turned[f] = min(min(v0, v1), min(v2, v3)) - near_reach[ball, at, f]
    best = NONE
    to = 0
    for f in range(count):
        best = max(best, turned[f])
    for f in range(count):
        to = f if turned[f] >= best else to
    return to, best


@jit_finite
def distance(t, i, illuminant, p, q, r, s):
    """How far row `i` of `t` lies beyond the plane with normal (p, q, r) and bound `s`."""
    return t[i, illuminant, 0] * p + t[i, illuminant, 1] * q + t[i, illuminant, 2] * r - s


@inlined_finite
def apart(i0, i1, i2, i3, ball, vertices, tables, room):
    """Whether a plane separates a region from a ball: (whether, whether `scores` are filled).

    First the plane of the table that keeps the vertices farthest off; then its neighbour that
    should do best, were the vertices to lose as much as they did along the first.
    """
    X, t, surface = vertices.X, vertices.t, tables.sight.surface
    omega, tangent, scores = room.omega, room.tangent, room.scores
    whiten, normals = tables.sight.whiten, tables.sight.normals
    radius = f4(tables.radii[ball])
    near = NEAR * radius
    at, best = table_plane(i0, i1, i2, i3, ball, vertices, tables, room.turned)
    illuminant = tables.sight.illuminant[at]
    for w in range(WIDE):
        omega[w] = tables.weights[at, w]
    scored = False
    l0, l1, l2, l3 = ZERO, ZERO, ZERO, ZERO
    if best > ZERO:
        p, q, r, s = normals[0, at], normals[1, at], normals[2, at], tables.reach[ball, at]
        d0 = distance(t, i0, illuminant, p, q, r, s)
        d1 = distance(t, i1, illuminant, p, q, r, s)
        d2 = distance(t, i2, illuminant, p, q, r, s)
        d3 = distance(t, i3, illuminant, p, q, r, s)
        b0, b1, b2, b3 = pull(d0, near), pull(d1, near), pull(d2, near), pull(d3, near)
        put_tangent(i0, i1, i2, i3, b0, b1, b2, b3, X, surface, tangent)
        bound = tables.zeros[at] + s + tables.slack[at]
        least = score(i0, i1, i2, i3, bound, X, omega, tangent, scores)
        if least > ZERO:
            return True, True
        if least < HOPELESS * radius:
            return False, True
        scored = True
        l0, l1, l2, l3 = d0 - scores[0], d1 - scores[1], d2 - scores[2], d3 - scores[3]
    elif best < TURN * radius:
        return False, False
    to, best = neighbour(
        i0, i1, i2, i3, l0, l1, l2, l3, at, ball, illuminant, vertices, tables, room.turned
    )
    if best < TURN_SCORED * radius:
        return False, scored
    near_normals = tables.near_normals
    p, q, r = near_normals[at, 0, to], near_normals[at, 1, to], near_normals[at, 2, to]
    s = tables.near_reach[ball, at, to]
    b0 = pull(distance(t, i0, illuminant, p, q, r, s), near)
    b1 = pull(distance(t, i1, illuminant, p, q, r, s), near)
    b2 = pull(distance(t, i2, illuminant, p, q, r, s), near)
    b3 = pull(distance(t, i3, illuminant, p, q, r, s), near)
    put_tangent(i0, i1, i2, i3, b0, b1, b2, b3, X, surface, tangent)
    # Summed in single precision, which SLACK covers too.
    weighed = ZERO
    for w in range(WIDE):
        o = p * whiten[illuminant, 0, w]
        o += q * whiten[illuminant, 1, w] + r * whiten[illuminant, 2, w]
        omega[w] = o
        weighed += abs(o)
    zero = p * whiten[illuminant, 3, 0]
    zero += q * whiten[illuminant, 3, 1] + r * whiten[illuminant, 3, 2]
    bound = zero + s + SLACK * weighed
    return score(i0, i1, i2, i3, bound, X, omega, tangent, scores) > ZERO, True
