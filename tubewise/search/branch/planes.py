"""Planes between a region of mixtures and what is better."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.search.ball import MARGIN, reach
from tubewise.search.branch.bounds import beyond, film_bounds
from tubewise.search.branch.vertices import whitened
from tubewise.search.jit import inlined, jit
from tubewise.search.kernels.ciede2000 import delta_e, delta_e_slopes
from tubewise.search.kernels.cielab import compressed_slope, expanded, lab_of, ratios
from tubewise.search.kernels.layout import BANDS, Indices

# A plane of the table may lean away from the best one by so much, in parts of the radius.
LEANING = 0.12
# A touching plane so far from clear, in parts of the radius, is not mended by a better point.
FAR = 0.02


class Planes(NamedTuple):
    """A region at hand and room to look for its planes.

    `ids` (k,): rows of its vertices; `points` (k, 3): these in whitened space, or for a film (1,
    3): its middle, of `middle` (36,) give or take `half` (36,). `along` (planes,), `margins` (k,),
    `omega` (36,), `normal`, `touch`, `grad` (3,), `metric` (3, 3), `work` (4, 36) are overwritten.
    """

    ids: Indices
    points: Floats
    middle: Floats
    half: Floats
    along: Floats
    margins: Floats
    omega: Floats
    normal: Floats
    touch: Floats
    grad: Floats
    metric: Floats
    work: Floats


@jit
def turn_to(bound, illuminant, aim, balls, planes):
    """The vertices' margins beyond the plane normal . t = `bound`, and its weights of the bands."""
    u, points, omega, W = planes.normal, planes.points, planes.omega, aim.W
    A = balls.A[illuminant]
    for j in range(points.shape[0]):
        here = u[0] * points[j, 0] + u[1] * points[j, 1] + u[2] * points[j, 2]
        planes.margins[j] = here - bound
    g0 = u[0] * A[0, 0] + u[1] * A[1, 0] + u[2] * A[2, 0]
    g1 = u[0] * A[0, 1] + u[1] * A[1, 1] + u[2] * A[2, 1]
    g2 = u[0] * A[0, 2] + u[1] * A[1, 2] + u[2] * A[2, 2]
    for w in range(BANDS):
        omega[w] = g0 * W[illuminant, 0, w] + g1 * W[illuminant, 1, w] + g2 * W[illuminant, 2, w]


@inlined
def best_plane(points, normals, support, along):
    """The table's plane that keeps `points` (k, 3) farthest from the ball: (row, least distance).

    `normals` (3, planes); `support` (planes,): how far the ball reaches; `along` is overwritten.
    """
    k = points.shape[0]
    count = normals.shape[1]
    j1, j2, j3 = min(1, k - 1), min(2, k - 1), min(3, k - 1)
    x0, y0, z0 = points[0, 0], points[0, 1], points[0, 2]
    x1, y1, z1 = points[j1, 0], points[j1, 1], points[j1, 2]
    x2, y2, z2 = points[j2, 0], points[j2, 1], points[j2, 2]
    x3, y3, z3 = points[j3, 0], points[j3, 1], points[j3, 2]
    for m in range(count):
        p, q, r = normals[0, m], normals[1, m], normals[2, m]
        v0 = x0 * p + y0 * q + z0 * r
        v1 = x1 * p + y1 * q + z1 * r
        v2 = x2 * p + y2 * q + z2 * r
        v3 = x3 * p + y3 * q + z3 * r
        along[m] = min(min(v0, v1), min(v2, v3)) - support[m]
    best = -np.inf
    at = 0
    for m in range(count):
        if along[m] > best:
            best = along[m]
            at = m
    return at, best


@inlined
def colour_apart(ball, illuminant, close, vertices, film, aim, balls, planes):
    """Whether some plane separates the region from the ball under one illuminant.

    `ball`: which of the `Balls`; `close`: the region is small, try hard.
    """
    support = balls.support[ball, illuminant]
    radius = balls.radii[ball]
    at, best = best_plane(planes.points, balls.normals, support, planes.along)
    if best <= -LEANING * radius:
        return False
    for c in range(3):
        planes.normal[c] = balls.normals[c, at]
    if film.thickness > 0.0:
        turn_to(support[at], illuminant, aim, balls, planes)
        slack = 0.0
        for w in range(BANDS):
            slack += abs(planes.omega[w]) * planes.half[w]
        return planes.margins[0] > slack
    if best > 0.0:
        turn_to(support[at], illuminant, aim, balls, planes)
        clear = beyond(planes.ids, planes.margins, planes.omega, vertices)
        if clear > 0.0:
            return True
        # Far from clear, a better plane would not help; cutting will.
        if clear < -LEANING * radius:
            return False
    return _touching_plane_apart(ball, illuminant, close, vertices, aim, balls, planes)


@inlined
def _touching_plane_apart(ball, illuminant, close, vertices, aim, balls, planes):
    """`colour_apart` by the plane that touches the ball where the region comes nearest.

    It lies across the slope of CIEDE2000 at the middle of the region; where that nearly clears a
    small region, at the tangent point between its middle and the target.
    """
    radius = balls.radii[ball]
    surface, B, centre = balls.surface[ball, illuminant], balls.inverse[illuminant], balls.centre
    target, points = aim.lab[illuminant], planes.points
    k = points.shape[0]
    t0 = 0.0
    t1 = 0.0
    t2 = 0.0
    for j in range(k):
        t0 += points[j, 0] / k
        t1 += points[j, 1] / k
        t2 += points[j, 2] / k
    x = max(centre[illuminant, 0] + B[0, 0] * t0 + B[0, 1] * t1 + B[0, 2] * t2, 1e-6)
    y = max(centre[illuminant, 1] + B[1, 0] * t0 + B[1, 1] * t1 + B[1, 2] * t2, 1e-6)
    z = max(centre[illuminant, 2] + B[2, 0] * t0 + B[2, 1] * t1 + B[2, 2] * t2, 1e-6)
    u = planes.normal
    if not outward(target, x, y, z, B, planes):
        return False
    grid, more = reach(surface, u[0], u[1], u[2])
    turn_to(grid + more + MARGIN * radius, illuminant, aim, balls, planes)
    clear = beyond(planes.ids, planes.margins, planes.omega, vertices)
    if clear > 0.0:
        return True
    if not close or clear < -FAR * radius:
        return False
    touch = planes.touch
    if not tangent_point(target, radius, x, y, z, touch):
        return False
    if not outward(target, touch[0], touch[1], touch[2], B, planes):
        return False
    x, y, z = touch[0], touch[1], touch[2]
    whitened(x, y, z, illuminant, balls, touch)
    bound = u[0] * touch[0] + u[1] * touch[1] + u[2] * touch[2]
    # If the ball reaches farther elsewhere it is not convex here, and its grid decides.
    grid, more = reach(surface, u[0], u[1], u[2])
    if grid > bound:
        bound = grid + more + MARGIN * radius
    turn_to(bound, illuminant, aim, balls, planes)
    return beyond(planes.ids, planes.margins, planes.omega, vertices) > 0.0


@jit
def outward(target, x, y, z, B, planes):
    """The unit normal, in whitened space, along which CIEDE2000 from `target` (3,) grows.

    At the ratios `x`, `y`, `z`; `B` (3, 3) takes whitened space back to ratios. It is left in
    `planes.normal`; False if there is none.
    """
    L, a, b = lab_of(x, y, z)
    u, grad = planes.normal, planes.grad
    delta_e_slopes(target[0], target[1], target[2], L, a, b, grad, planes.metric)
    d0 = compressed_slope(x) * 500.0 * grad[1]
    d1 = compressed_slope(y) * (116.0 * grad[0] - 500.0 * grad[1] + 200.0 * grad[2])
    d2 = -compressed_slope(z) * 200.0 * grad[2]
    norm = 0.0
    for c in range(3):
        u[c] = B[0, c] * d0 + B[1, c] * d1 + B[2, c] * d2
        norm += u[c] * u[c]
    if not norm > 0.0:
        return False
    norm = 1.0 / math.sqrt(norm)
    for c in range(3):
        u[c] *= norm
    return True


@jit
def tangent_point(target, radius, x, y, z, out):
    """The ball's surface between the ratios `x`, `y`, `z` outside and its centre, into `out` (3,).

    False when that point is inside already.
    """
    L, a, b = target[0], target[1], target[2]
    dL, da, db = lab_of(x, y, z)
    dL -= L
    da -= a
    db -= b
    low, high = 0.0, 1.0
    e_low = -radius
    e_high = delta_e(L, a, b, L + dL, a + da, b + db) - radius
    if e_high <= 0.0:
        return False
    for _ in range(40):
        s = low + (high - low) * min(max(-e_low / (e_high - e_low), 0.001), 0.999)
        e = delta_e(L, a, b, L + s * dL, a + s * da, b + s * db) - radius
        # The last step is taken outwards, so the plane through it holds the whole ball back.
        if 0.0 <= e < 1e-6:
            high = s
            break
        if e < 0.0:
            low, e_low = s, e
        else:
            high, e_high = s, e
    fy = (L + high * dL + 16.0) / 116.0
    out[0] = expanded(fy + (a + high * da) / 500.0)
    out[1] = expanded(fy)
    out[2] = expanded(fy - (b + high * db) / 200.0)
    return True


@inlined
def spectrum_apart(radius, vertices, film, aim, planes):
    """Whether every reflectance in the region is farther than `radius` from the goal.

    Twice: band by band, and across the plane towards the goal from the vertices' average.
    """
    ids, goal, R, omega = planes.ids, aim.goal, vertices.R, planes.omega
    k = ids.size
    near = 0.0
    norm = 0.0
    for w in range(BANDS):
        low, high, mean = R[ids[0], w], R[ids[0], w], 0.0
        for j in range(k):
            low = min(low, R[ids[j], w])
            high = max(high, R[ids[j], w])
            mean += R[ids[j], w] / k
        if film.thickness > 0.0:
            mean = planes.middle[w]
            low, high = mean - planes.half[w], mean + planes.half[w]
        d = max(low - goal[w], goal[w] - high, 0.0)
        near += d * d
        omega[w] = mean - goal[w]
        norm += omega[w] * omega[w]
    within = radius * math.sqrt(BANDS) / 100.0
    if math.sqrt(near) > within:
        return True
    if film.thickness > 0.0:
        return False
    for j in range(k):
        total = 0.0
        for w in range(BANDS):
            total += omega[w] * (R[ids[j], w] - goal[w])
        planes.margins[j] = total - within * math.sqrt(norm)
    return beyond(ids, planes.margins, omega, vertices) > 0.0


@inlined
def apart(ball, close, vertices, film, aim, balls, planes):
    """Whether everything in the region at hand is farther off than the radius of one of the balls.

    `close`: the region is small, try hard.
    """
    if film.thickness > 0.0:
        film_bounds(planes.ids, vertices, film, planes.work, planes.middle, planes.half)
    if not math.isnan(aim.goal[0]):
        return spectrum_apart(balls.radii[ball], vertices, film, aim, planes)
    for illuminant in range(aim.W.shape[0]):
        if film.thickness > 0.0:
            x, y, z = ratios(planes.middle, aim.W, illuminant)
            whitened(x, y, z, illuminant, balls, planes.points[0])
        else:
            for v in range(planes.ids.size):
                for c in range(3):
                    planes.points[v, c] = vertices.t[planes.ids[v], illuminant, c]
        if colour_apart(ball, illuminant, close, vertices, film, aim, balls, planes):
            return True
    return False
