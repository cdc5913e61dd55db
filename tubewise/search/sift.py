"""Most sets of paints are ruled out here, by the million and in single precision.

As in `branch`, a region is the mixtures between up to four corner mixtures, and a plane shall
separate it from the ball of better colours. The bound is another one, made to be cheap. Reflectance
is a convex function of q = K/S. Where the plane counts a band upwards, reflectance lies above the
tangent at some mixture, the *foot*; where it counts a band downwards, below the corners' average.
Both are linear in the corners' shares of S at that band. With shares common to all bands every
corner's excess over the foot is multiplied by its N over the mixture's N (N: S over its mean),
which lies between known limits. So each corner gets a *score*, and the region lies beyond the plane
by the scores' average, whatever the shares: the least score decides.

When one corner alone scores below zero, whatever is better lies near it: the region shrinks to
the shares whose average score isn't positive, which is a smaller region of the same kind. Else it
is cut in two where it bends most.

Single precision doubles the speed. For what rounding may do every plane is moved towards the region
by `SLACK` of its weights' sum; tests/advice/search/test_sift.py compares with double precision.
Sets that stay open are left to `branch`, which works in double precision throughout.
"""

# Kernels take plain arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from typing import Any

import numba
import numpy as np

from tubewise.search.branch import choose_ball
from tubewise.search.jit import FASTMATH
from tubewise.search.jit import jit_finite as _jit
from tubewise.search.polish import corners, polish, shares_of, value_at

# 36 bands, filled up with weightless ones to whole vectors of eight.
WIDE = 40
# What a row of the pool holds: K, S, N = S/mean, 1/N, q = K/S and reflectance.
K_, S_, N_, OVER_N, Q_, H_ = 0, 1, 2, 3, 4, 5
FIELDS = 6
DEEPEST = 36
# Rows of the pool that one level of the tree may fill.
ROWS_A_LEVEL = 4
LARGEST = 4
# After so many regions of a set, and again after as many, a region's middle is tried as a recipe.
TRY_EVERY = 64

f4 = np.float32
ZERO, HALF, ONE, TWO = f4(0.0), f4(0.5), f4(1.0), f4(2.0)
NONE = f4(-1e30)
TINY = f4(1e-12)
# Rounding moves a score by less than this part of the plane's weights, summed.
SLACK = f4(5e-6)
# Corners this near to the plane, in parts of the radius, no longer draw the foot further.
NEAR = f4(1e-3)
# A corner is not drawn in when it would move by less than a tenth of the edge.
DRAWN_IN = f4(0.9)
# The region shrinks when some corner scores at least half of what the one lacks.
WORTH = f4(2.0)
# How far, in parts of the radius, planes may be from clear and their neighbours still be tried.
TURN, TURN_SCORED = f4(-0.12), f4(-0.05)
# A score so many radii below zero is not mended by another plane.
HOPELESS = f4(-0.5)
# An edge between two corners that are clear matters less.
BOTH_CLEAR = f4(0.2)


def _inline(function: Any) -> Any:
    """For functions of so many arrays that handing them over would cost more than the work."""
    return numba.njit(
        inline="always", nogil=True, error_model="numpy", fastmath=set(FASTMATH | {"nnan"})
    )(function)


@_inline
def mix(
    X,
    mean,
    T,
    along,
    came_from,
    planes,
    light_of,
    starts,
    q,
    i,
    j,
    share_i,
    share_j,
    surface,
    whiten,
):
    """Row `q` of the pool: a mixture of rows `i` and `j`, shares in units of strength.

    The pool: see `sift_sets`. `surface` (3,): 1 - k2, (1-k1)(1-k2) and base; `whiten` (lights, 4,
    WIDE): weights of the bands for the three whitened coordinates, and in the last row their zeros.
    """
    k2c, gain, base = surface[0], surface[1], surface[2]
    scale = ONE / (share_i + share_j)
    share_i *= scale
    share_j *= scale
    m = share_i * mean[i] + share_j * mean[j]
    mean[q] = m
    over = ONE / m
    t0, t1, t2 = -whiten[0, 3, 0], -whiten[0, 3, 1], -whiten[0, 3, 2]
    for w in range(WIDE):
        k = share_i * X[i, K_, w] + share_j * X[j, K_, w]
        s = share_i * X[i, S_, w] + share_j * X[j, S_, w]
        f = m / s
        r = k * f * over
        h = base + gain / (r + k2c + math.sqrt(r * (r + TWO)))
        X[q, K_, w] = k
        X[q, S_, w] = s
        X[q, N_, w] = s * over
        X[q, OVER_N, w] = f
        X[q, Q_, w] = r
        X[q, H_, w] = h
        t0 += whiten[0, 0, w] * h
        t1 += whiten[0, 1, w] * h
        t2 += whiten[0, 2, w] * h
    for light in range(whiten.shape[0]):
        if light > 0:
            t0, t1, t2 = -whiten[light, 3, 0], -whiten[light, 3, 1], -whiten[light, 3, 2]
            for w in range(WIDE):
                h = X[q, H_, w]
                t0 += whiten[light, 0, w] * h
                t1 += whiten[light, 1, w] * h
                t2 += whiten[light, 2, w] * h
        T[q, light, 0] = t0
        T[q, light, 1] = t1
        T[q, light, 2] = t2
        for p in range(starts[light], starts[light + 1]):
            along[q, p] = t0 * planes[0, p] + t1 * planes[1, p] + t2 * planes[2, p]
    came_from[q, 0] = i
    came_from[q, 1] = share_i
    came_from[q, 2] = j
    came_from[q, 3] = share_j


@_jit
def place(n, X, mean, T, along, came_from, planes, light_of, starts, surface, whiten):
    """Fill the first `n` rows of a pool, whose K and S are the paints'."""
    for i in range(n):
        mix(
            X,
            mean,
            T,
            along,
            came_from,
            planes,
            light_of,
            starts,
            i,
            i,
            i,
            HALF,
            HALF,
            surface,
            whiten,
        )


@_jit
def made_of(came_from, n, rows, corner_rows, b):
    """Amounts `b` (k,) of the paints `rows` (k,) in the middle of a region of `corner_rows` (k,).

    `came_from` (rows, 4): the two rows a row was mixed from and how much of each.
    """
    k = rows.size
    amounts = np.zeros(came_from.shape[0])
    for v in range(k):
        amounts[corner_rows[v]] += 1.0
    # Rows are mixed from rows of higher levels, which lie before them, or from paints.
    for q in range(amounts.size - 1, n - 1, -1):
        if amounts[q] > 0.0:
            amounts[int(came_from[q, 0])] += amounts[q] * came_from[q, 1]
            amounts[int(came_from[q, 2])] += amounts[q] * came_from[q, 3]
    total = 0.0
    for v in range(k):
        total += amounts[rows[v]]
    for v in range(k):
        b[v] = amounts[rows[v]] / total


@_jit
def put_foot(X, i0, i1, i2, i3, b0, b1, b2, b3, surface, foot):
    """The mixture of four corners with shares `b*`: q, reflectance and its slope into `foot`."""
    k2c, gain, base = surface[0], surface[1], surface[2]
    for w in range(WIDE):
        n0, n1, n2, n3 = b0 * X[i0, N_, w], b1 * X[i1, N_, w], b2 * X[i2, N_, w], b3 * X[i3, N_, w]
        q = n0 * X[i0, Q_, w] + n1 * X[i1, Q_, w] + n2 * X[i2, Q_, w] + n3 * X[i3, Q_, w]
        q /= n0 + n1 + n2 + n3
        root = math.sqrt(q * (q + TWO))
        over = ONE / (q + k2c + root)
        foot[0, w] = q
        foot[1, w] = base + gain * over
        foot[2, w] = -gain * over * over * (ONE + (q + ONE) / (root + TINY))


@_jit
def score(X, i0, i1, i2, i3, omega, bound, foot, scores):
    """Each corner's score beyond the plane omega . R = `bound` into `scores` (4,); the least.

    `foot` (3, WIDE): q, reflectance and slope of any mixture.
    """
    clear = -bound
    t0, t1, t2, t3 = ZERO, ZERO, ZERO, ZERO
    for w in range(WIDE):
        o = omega[w]
        clear += o * foot[1, w]
        a = max(o, ZERO) * foot[2, w]
        e = min(o, ZERO)
        c = -(a * foot[0, w] + e * foot[1, w])
        f0, f1, f2, f3 = X[i0, OVER_N, w], X[i1, OVER_N, w], X[i2, OVER_N, w], X[i3, OVER_N, w]
        low = min(min(f0, f1), min(f2, f3))
        high = max(max(f0, f1), max(f2, f3))
        v0 = (a * X[i0, Q_, w] + e * X[i0, H_, w] + c) * X[i0, N_, w]
        v1 = (a * X[i1, Q_, w] + e * X[i1, H_, w] + c) * X[i1, N_, w]
        v2 = (a * X[i2, Q_, w] + e * X[i2, H_, w] + c) * X[i2, N_, w]
        v3 = (a * X[i3, Q_, w] + e * X[i3, H_, w] + c) * X[i3, N_, w]
        t0 += min(v0 * low, v0 * high)
        t1 += min(v1 * low, v1 * high)
        t2 += min(v2 * low, v2 * high)
        t3 += min(v3 * low, v3 * high)
    scores[0] = clear + t0
    scores[1] = clear + t1
    scores[2] = clear + t2
    scores[3] = clear + t3
    return clear + min(min(t0, t1), min(t2, t3))


@_jit
def _pull(margin, near):
    """How strongly a corner draws the foot: the more the nearer it is to the plane."""
    return ONE / (max(margin, ZERO) + near)


@_jit
def bend(X, i, j, omega, base):
    """How far the edge between two rows bends, counted with the plane's weights."""
    total = ZERO
    for w in range(WIDE):
        h0, h1 = X[i, H_, w], X[j, H_, w]
        d = h0 - h1
        total += abs(omega[w]) * d * d / (h0 + h1 - base)
    return total


@_jit
def rest_of_table(i0, i1, i2, i3, T, planes, light_of, reach, ball, kept, at, best):
    """The plane that keeps four corners farthest off, and how far, among `at` and those not kept.

    Seldom needed: only where the planes mostly of use don't part region and ball.
    """
    for p in range(kept, planes.shape[1]):
        light = light_of[p]
        least = -NONE
        for v in range(LARGEST):
            i = (i0, i1, i2, i3)[v]
            t = T[i, light, 0] * planes[0, p]
            t += T[i, light, 1] * planes[1, p] + T[i, light, 2] * planes[2, p]
            least = min(least, t - reach[ball, p])
        if least > best:
            best = least
            at = p
    return at, best


@_inline
def look(
    i0,
    i1,
    i2,
    i3,
    X,
    T,
    along,
    planes,
    light_of,
    ball,
    radius,
    reach,
    weights,
    zeros,
    slack,
    near_planes,
    near_reach,
    surface,
    whiten,
    turned,
    omega,
    foot,
    scores,
):
    """Whether a plane separates a region from the ball: (whether, whether `scores` are filled).

    First the plane of the table that keeps the corners farthest off; then its neighbour that
    should do best, were the corners to lose as much as they did along the first. `omega`
    (WIDE,) is left with the last plane tried; `turned` (planes or neighbours,) and `foot` (3, WIDE)
    are overwritten.
    """
    near = NEAR * radius
    best = NONE
    at = 0
    for p in range(along.shape[1]):
        turned[p] = (
            min(min(along[i0, p], along[i1, p]), min(along[i2, p], along[i3, p])) - reach[ball, p]
        )
    for p in range(along.shape[1]):
        best = max(best, turned[p])
    for p in range(along.shape[1]):
        at = p if turned[p] >= best else at
    if best <= ZERO:
        at, best = rest_of_table(
            i0, i1, i2, i3, T, planes, light_of, reach, ball, along.shape[1], at, best
        )
    light = light_of[at]
    for w in range(WIDE):
        omega[w] = weights[at, w]
    x0, y0, z0 = T[i0, light, 0], T[i0, light, 1], T[i0, light, 2]
    x1, y1, z1 = T[i1, light, 0], T[i1, light, 1], T[i1, light, 2]
    x2, y2, z2 = T[i2, light, 0], T[i2, light, 1], T[i2, light, 2]
    x3, y3, z3 = T[i3, light, 0], T[i3, light, 1], T[i3, light, 2]
    scored = False
    l0, l1, l2, l3 = ZERO, ZERO, ZERO, ZERO
    if best > ZERO:
        p, q, r, s = planes[0, at], planes[1, at], planes[2, at], reach[ball, at]
        d0 = x0 * p + y0 * q + z0 * r - s
        d1 = x1 * p + y1 * q + z1 * r - s
        d2 = x2 * p + y2 * q + z2 * r - s
        d3 = x3 * p + y3 * q + z3 * r - s
        b0, b1, b2, b3 = _pull(d0, near), _pull(d1, near), _pull(d2, near), _pull(d3, near)
        put_foot(X, i0, i1, i2, i3, b0, b1, b2, b3, surface, foot)
        bound = zeros[at] + s + slack[at]
        if score(X, i0, i1, i2, i3, omega, bound, foot, scores) > ZERO:
            return True, True
        scored = True
        if min(min(scores[0], scores[1]), min(scores[2], scores[3])) < HOPELESS * radius:
            return False, True
        l0, l1, l2, l3 = d0 - scores[0], d1 - scores[1], d2 - scores[2], d3 - scores[3]
    elif best < TURN * radius:
        return False, False
    count = near_reach.shape[2]
    for f in range(count):
        p, q, r = near_planes[at, 0, f], near_planes[at, 1, f], near_planes[at, 2, f]
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
    if best < TURN_SCORED * radius:
        return False, scored
    p, q, r = near_planes[at, 0, to], near_planes[at, 1, to], near_planes[at, 2, to]
    s = near_reach[ball, at, to]
    b0 = _pull(x0 * p + y0 * q + z0 * r - s, near)
    b1 = _pull(x1 * p + y1 * q + z1 * r - s, near)
    b2 = _pull(x2 * p + y2 * q + z2 * r - s, near)
    b3 = _pull(x3 * p + y3 * q + z3 * r - s, near)
    put_foot(X, i0, i1, i2, i3, b0, b1, b2, b3, surface, foot)
    # Summed in single precision, which SLACK covers too.
    weighed = ZERO
    for w in range(WIDE):
        o = p * whiten[light, 0, w] + q * whiten[light, 1, w] + r * whiten[light, 2, w]
        omega[w] = o
        weighed += abs(o)
    zero = p * whiten[light, 3, 0] + q * whiten[light, 3, 1] + r * whiten[light, 3, 2]
    bound = zero + s + SLACK * weighed
    return score(X, i0, i1, i2, i3, omega, bound, foot, scores) > ZERO, True


@_inline
def divide(
    top,
    depth,
    k,
    scored,
    nodes,
    X,
    mean,
    T,
    along,
    came_from,
    planes,
    light_of,
    starts,
    surface,
    whiten,
    omega,
    scores,
    first_row,
):
    """Shrink the uppermost region of the stack or cut it in two: what to add to `top`."""
    below = 0
    v0 = 0
    if scored:
        for v in range(k):
            if scores[v] <= ZERO:
                below += 1
                v0 = v
    if below == 1:
        lacks = -scores[v0]
        worth = False
        for v in range(k):
            worth = worth or (v != v0 and lacks < WORTH * scores[v])
        if worth:
            i = nodes[top, v0]
            for v in range(k):
                if v == v0:
                    continue
                # A little farther than where the score is zero, to be on the outer side of it.
                part = lacks / (scores[v] + lacks) * f4(1.00001) + f4(1e-6)
                if part > DRAWN_IN:
                    continue
                j = nodes[top, v]
                q = first_row + v
                mix(
                    X,
                    mean,
                    T,
                    along,
                    came_from,
                    planes,
                    light_of,
                    starts,
                    q,
                    i,
                    j,
                    (ONE - part) / mean[i],
                    part / mean[j],
                    surface,
                    whiten,
                )
                nodes[top, v] = q
            depth[top] += 1
            return 1
    widest = -ONE
    e0, e1 = 0, 1
    for v in range(k):
        for v2 in range(v + 1, k):
            wide = bend(X, nodes[top, v], nodes[top, v2], omega, surface[2])
            if scored and scores[v] > ZERO and scores[v2] > ZERO:
                wide *= BOTH_CLEAR
            if wide > widest:
                widest = wide
                e0, e1 = v, v2
    mix(
        X,
        mean,
        T,
        along,
        came_from,
        planes,
        light_of,
        starts,
        first_row,
        nodes[top, e0],
        nodes[top, e1],
        HALF,
        HALF,
        surface,
        whiten,
    )
    for v in range(k):
        nodes[top + 1, v] = nodes[top, v]
    nodes[top, e0] = first_row
    nodes[top + 1, e1] = first_row
    depth[top] += 1
    depth[top + 1] = depth[top]
    return 2


@_jit
def try_middle(rows, n, corner_rows, came_from, finish, radius, shares_out):
    """The local optimum near a region's middle, where that is nearer than `radius`; else infinity.

    `finish`: K, S, unit and what `polish` takes. `shares_out` (k,): the paints' shares there.
    """
    K, S, unit, medium, ground, W, target, goal = finish
    k = rows.size
    Kv, Sv, volume = np.empty((k, 36)), np.empty((k, 36)), np.empty((k, k))
    corners(K, S, unit, rows, 0.0, Kv, Sv, volume)
    b = np.empty(k)
    made_of(came_from, n, rows, corner_rows, b)
    lab = np.empty((W.shape[0], 3))
    if not value_at(Kv, Sv, b, medium, ground, W, target, goal, lab) < radius:
        return np.inf
    value = polish(Kv, Sv, b, medium, ground, W, target, goal, 25)
    shares_of(b, volume, shares_out)
    return value


@_jit
def sift_sets(
    sets,
    extra,
    penalty,
    n,
    pool,
    radii,
    reach,
    weights,
    zeros,
    slack,
    near_planes,
    near_reach,
    surface,
    whiten,
    budget,
    tolerance,
    finish,
    shared,
    record,
    best_rows,
    best_shares,
    still_open,
):
    """Sift `sets` (m, k) of paints, k <= 4; `still_open` (m,) receives what is not ruled out.

    `pool`: X (n + room, FIELDS, WIDE), its first n rows the paints in units of strength; mean S
    (rows,); whitened colours T (rows, lights, 3); `along` (rows, kept), the places of those along
    the first planes' normals; `came_from` (rows, 4), see `made_of`; the table's normals (3,
    planes) and lights (planes,), those mostly of use first; `starts` (lights + 1,), where each
    light's begin among these.
    `radii` (m,): the balls', falling, which reach as far as `reach` (m, planes) along the table's
    normals and `near_reach` (m, planes, f) along their neighbours `near_planes` (planes, 3, f).
    `weights` (planes, WIDE), `zeros` (planes,): the table's planes over the bands; `slack`
    (planes,): see `SLACK`. `budget`: regions of one set. `finish`: see `try_middle`; its first
    array is empty when local optima are not to be looked for.
    The rest as in `branch.examine_sets`.
    """
    X, mean, T, along, came_from, planes, light_of, starts = pool
    k = sets.shape[1]
    nodes = np.zeros((DEEPEST + 3, LARGEST), np.int64)
    depth = np.zeros(DEEPEST + 3, np.int64)
    turned = np.zeros(max(along.shape[1], near_reach.shape[2]), np.float32)
    omega = np.zeros(WIDE, np.float32)
    foot = np.zeros((3, WIDE), np.float32)
    scores = np.zeros(LARGEST, np.float32)
    shares_out = np.empty(k)
    finishing = finish[0].shape[0] > 0
    for r in range(sets.shape[0]):
        still_open[r] = False
        wish = extra
        for v in range(k):
            wish += penalty[sets[r, v]]
        need = shared[0] - tolerance - wish
        if need <= 0.0:
            continue
        ball = choose_ball(need, radii)
        radius = f4(radii[ball])
        for v in range(k):
            nodes[0, v] = sets[r, v]
        depth[0] = 0
        top = 1
        visits = 0
        while top > 0:
            top -= 1
            visits += 1
            i0 = nodes[top, 0]
            i1 = nodes[top, 1] if k > 1 else i0
            i2 = nodes[top, 2] if k > 2 else i0
            i3 = nodes[top, 3] if k > 3 else i0
            clear, scored = look(
                i0,
                i1,
                i2,
                i3,
                X,
                T,
                along,
                planes,
                light_of,
                ball,
                radius,
                reach,
                weights,
                zeros,
                slack,
                near_planes,
                near_reach,
                surface,
                whiten,
                turned,
                omega,
                foot,
                scores,
            )
            # One paint has no proportions to cut; its one colour was met in the first search.
            if clear or k == 1:
                continue
            if visits >= budget or depth[top] >= DEEPEST:
                still_open[r] = True
                break
            if finishing and visits % TRY_EVERY == 0:
                record[3] += 1
                value = try_middle(
                    sets[r], n, nodes[top, :k], came_from, finish, radius, shares_out
                )
                # What is better lowers the bar for all other sets.
                if value + wish < shared[0]:
                    shared[0] = value + wish
                    record[0] = value + wish
                    for v in range(k):
                        best_rows[v] = sets[r, v]
                        best_shares[v] = shares_out[v]
                    still_open[r] = True
                    break
            first_row = n + ROWS_A_LEVEL * depth[top]
            top += divide(
                top,
                depth,
                k,
                scored,
                nodes,
                X,
                mean,
                T,
                along,
                came_from,
                planes,
                light_of,
                starts,
                surface,
                whiten,
                omega,
                scores,
                first_row,
            )
        record[2] += visits
