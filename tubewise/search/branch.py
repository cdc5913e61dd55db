"""The proof: every set of paints is ruled out, or solved, by bounds over regions of proportions.

A region is the mixtures between k corner mixtures. At each wavelength K/S of such a mixture lies
between the corners', and reflectance is a falling convex function of K/S. So reflectance is the
corners' average up to an error that shrinks with the square of the region (`opaque_errors`), and
X, Y, Z lie in the corners' hull, widened by that error. A region is ruled out when a plane
separates that from the ball of better colours (`ball`), else it is cut in two. Films, whose
colour depends on K and S apart, are bounded by monotonicity: reflectance falls with K and rises
with S.
"""

# Kernels take plain float64 arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math

import numpy as np

from tubewise.search.ball import MARGIN, reach
from tubewise.search.jit import jit
from tubewise.search.kernels import (
    BANDS,
    _f,
    _f_slope,
    delta_e,
    delta_e_slopes,
    ratios,
    reflectance,
)
from tubewise.search.parts import parts_value
from tubewise.search.polish import corners, polish, shares_of

DEEPEST = 60
# At most so many whole-part recipes are left in a region before they are simply tried.
FEW_PARTS = 6
# Region visits after which a set's local optimum is looked for, and again at every doubling.
POLISH_AFTER = 50

# From this depth on, regions are small enough to deserve the exact touching plane.
CLOSE = 9

RULED_OUT, OPEN = 0, 1


@jit
def place(q, K, S, N, H, Q, M, T, medium, ground, W, A, centre):
    """Fill everything known about corner `q` of the pool from its K and S."""
    reflectance(K[q], S[q], medium, ground, H[q])
    k2, gain = medium[0], medium[1]
    if medium[3] <= 0.0:
        mean = 0.0
        for w in range(BANDS):
            mean += S[q, w]
        mean = mean / BANDS + 1e-300
        least = 1e-12 * mean
        # Three short loops: each is vectorised, one long one is not.
        for w in range(BANDS):
            N[q, w] = (S[q, w] + least) / mean
        for w in range(BANDS):
            Q[q, w] = K[q, w] / (S[q, w] + least)
        for w in range(BANDS):
            s = S[q, w] + least
            root = math.sqrt(K[q, w] * (K[q, w] + 2.0 * s))
            P = K[q, w] + (1.0 - k2) * s + root
            M[q, w] = -gain * s * s / (P * P) * (1.0 + (K[q, w] + s) / max(root, 1e-12 * s))
    x = np.empty(3)
    for light in range(W.shape[0]):
        ratios(H[q], W, light, x)
        for c in range(3):
            T[q, light, c] = (
                A[light, c, 0] * (x[0] - centre[light, 0])
                + A[light, c, 1] * (x[1] - centre[light, 1])
                + A[light, c, 2] * (x[2] - centre[light, 2])
            )


@jit
def film_errors(ids, K, S, medium, ground, work, middle, half):
    """Reflectance of a film anywhere in the region: `middle` (36,) give or take `half` (36,)."""
    for w in range(BANDS):
        work[0, w] = K[ids[0], w]
        work[1, w] = K[ids[0], w]
        work[2, w] = S[ids[0], w]
        work[3, w] = S[ids[0], w]
        for j in range(1, ids.size):
            i = ids[j]
            work[0, w] = min(work[0, w], K[i, w])
            work[1, w] = max(work[1, w], K[i, w])
            work[2, w] = min(work[2, w], S[i, w])
            work[3, w] = max(work[3, w], S[i, w])
    reflectance(work[0], work[3], medium, ground, middle)
    reflectance(work[1], work[2], medium, ground, half)
    for w in range(BANDS):
        high, low = middle[w], half[w]
        middle[w] = 0.5 * (high + low)
        half[w] = 0.5 * (high - low)


@jit
def clear(i0, i1, i2, i3, m0, m1, m2, m3, omega, Q, H, M, N):
    """How far the mixtures of four corners lie beyond a plane, at least; below 0: undecided.

    `i0`..`i3`: rows of the pool, i0 the corner nearest to the plane, with margins `m0`..`m3` > 0;
    `omega` (36,): the plane as weights of the bands.

    With weights b of the corners, reflectance is rho(sum b' q), b' = b N / sum b N. rho is convex,
    so at each band it lies
      below sum b' rho(q_j);
      above that less the greatest gap between the chord over all q and the tangents at its ends;
      above the tangent at the nearest corner, taken at sum b' q.
    Changing b' for b costs a covariance over the corners, at most a quarter of both ranges'
    product (`tilt`). Where a band counts downwards the first bound is used, where it counts upwards
    the second or third, whichever takes the smaller part of the margins. All are linear in b, so
    the corners decide.
    """
    c0, c1, c2, c3 = 1.0 / m0, 1.0 / m1, 1.0 / m2, 1.0 / m3
    plain = 0.0
    common = 0.0
    l1 = 0.0
    l2 = 0.0
    l3 = 0.0
    for w in range(BANDS):
        rise = max(omega[w], 0.0)
        fall = rise - omega[w]
        q0, q1, q2, q3 = Q[i0, w], Q[i1, w], Q[i2, w], Q[i3, w]
        h0, h1, h2, h3 = H[i0, w], H[i1, w], H[i2, w], H[i3, w]
        n0, n1, n2, n3 = N[i0, w], N[i1, w], N[i2, w], N[i3, w]
        s0 = M[i0, w]
        steepest = min(min(s0, M[i1, w]), min(M[i2, w], M[i3, w]))
        flattest = max(max(s0, M[i1, w]), max(M[i2, w], M[i3, w]))
        dq = max(max(q0, q1), max(q2, q3)) - min(min(q0, q1), min(q2, q3))
        dh = max(max(h0, h1), max(h2, h3)) - min(min(h0, h1), min(h2, h3))
        low_n = min(min(n0, n1), min(n2, n3))
        spread = 0.25 * (max(max(n0, n1), max(n2, n3)) - low_n) / low_n
        gap = max(-dh - steepest * dq, 0.0) * max(flattest * dq + dh, 0.0)
        gap = min(gap / ((flattest - steepest) * dq + 1e-300), dh)
        tilt = spread * dh
        # Losses of the tangent at the nearest corner, at the other corners.
        t1 = h1 - h0 - s0 * (q1 - q0)
        t2 = h2 - h0 - s0 * (q2 - q0)
        t3 = h3 - h0 - s0 * (q3 - q0)
        # Its values over the corners run from h0 + s0 (most q) to h0 + s0 (least q).
        tangent_tilt = spread * -s0 * dq
        chord_loss = gap + tilt
        plain += rise * chord_loss + fall * tilt
        worst = max(c1 * t1, max(c2 * t2, c3 * t3)) + c0 * tangent_tilt
        use = 1.0 if worst < c0 * chord_loss else 0.0
        common += rise * (use * tangent_tilt + (1.0 - use) * chord_loss) + fall * tilt
        part = use * rise
        l1 += part * t1
        l2 += part * t2
        l3 += part * t3
    mixed = min(min(m0 - common, m1 - common - l1), min(m2 - common - l2, m3 - common - l3))
    return max(m0 - plain, mixed)


@jit
def beyond(ids, margins, omega, Q, H, M, N):
    """`clear` for up to four corners `ids` with `margins`; fewer are filled up with the nearest."""
    k = ids.size
    near = 0
    for j in range(1, k):
        if margins[j] < margins[near]:
            near = j
    m0 = margins[near]
    if not m0 > 0.0:
        return m0
    i0 = ids[near]
    i1, i2, i3 = i0, i0, i0
    m1, m2, m3 = m0, m0, m0
    at = 0
    for j in range(k):
        if j == near:
            continue
        at += 1
        if at == 1:
            i1, m1 = ids[j], margins[j]
        elif at == 2:
            i2, m2 = ids[j], margins[j]
        else:
            i3, m3 = ids[j], margins[j]
    return clear(i0, i1, i2, i3, m0, m1, m2, m3, omega, Q, H, M, N)


@jit
def plane_weights(points, u, bound, light, A, W, margins, omega):
    """The corners' margins beyond the plane u.t = `bound`, and its weights `omega` of the bands."""
    for j in range(points.shape[0]):
        margins[j] = u[0] * points[j, 0] + u[1] * points[j, 1] + u[2] * points[j, 2] - bound
    g0 = u[0] * A[light, 0, 0] + u[1] * A[light, 1, 0] + u[2] * A[light, 2, 0]
    g1 = u[0] * A[light, 0, 1] + u[1] * A[light, 1, 1] + u[2] * A[light, 2, 1]
    g2 = u[0] * A[light, 0, 2] + u[1] * A[light, 1, 2] + u[2] * A[light, 2, 2]
    for w in range(BANDS):
        omega[w] = g0 * W[light, 0, w] + g1 * W[light, 1, w] + g2 * W[light, 2, w]


@jit
def best_plane(points, light, planes, support, along):
    """The table's plane that keeps the corners farthest from the ball: (row, least distance)."""
    k = points.shape[0]
    count = planes.shape[1]
    j1, j2, j3 = min(1, k - 1), min(2, k - 1), min(3, k - 1)
    x0, y0, z0 = points[0, 0], points[0, 1], points[0, 2]
    x1, y1, z1 = points[j1, 0], points[j1, 1], points[j1, 2]
    x2, y2, z2 = points[j2, 0], points[j2, 1], points[j2, 2]
    x3, y3, z3 = points[j3, 0], points[j3, 1], points[j3, 2]
    for m in range(count):
        p, q, r = planes[0, m], planes[1, m], planes[2, m]
        v0 = x0 * p + y0 * q + z0 * r
        v1 = x1 * p + y1 * q + z1 * r
        v2 = x2 * p + y2 * q + z2 * r
        v3 = x3 * p + y3 * q + z3 * r
        along[m] = min(min(v0, v1), min(v2, v3)) - support[light, m]
    best = -np.inf
    at = 0
    for m in range(count):
        if along[m] > best:
            best = along[m]
            at = m
    return at, best


@jit
def colour_apart(
    ids,
    points,
    light,
    A,
    inverse,
    centre,
    W,
    target,
    planes,
    support,
    surface,
    radius,
    film,
    close,
    down,
    Q,
    H,
    M,
    N,
    along,
    margins,
    omega,
    u,
):
    """Whether some plane separates the region from the ball under one light.

    `close`: the region is small, try hard. `points` (m, 3): corners in whitened space, or for a
    film its middle, give or take `down` (36,).
    `along` (planes,), `margins` (k,), `omega` (36,) and `u` (3,) are overwritten.
    """
    at, best = best_plane(points, light, planes, support, along)
    # A plane of the table may lean a little away from the best one, but not more.
    if best <= -0.12 * radius:
        return False
    u[0], u[1], u[2] = planes[0, at], planes[1, at], planes[2, at]
    bound = support[light, at]
    if film:
        plane_weights(points, u, bound, light, A, W, margins, omega)
        slack = 0.0
        for w in range(BANDS):
            slack += abs(omega[w]) * down[w]
        return margins[0] > slack
    if best > 0.0:
        plane_weights(points, u, bound, light, A, W, margins, omega)
        clearance = beyond(ids, margins, omega, Q, H, M, N)
        if clearance > 0.0:
            return True
        # Far from clear, a better plane would not help; cutting will.
        if clearance < -0.12 * radius:
            return False
    # The plane that touches the ball where the region comes nearest: across the slope of
    # CIEDE2000 at the middle of the region.
    k = points.shape[0]
    t0 = 0.0
    t1 = 0.0
    t2 = 0.0
    for j in range(k):
        t0 += points[j, 0] / k
        t1 += points[j, 1] / k
        t2 += points[j, 2] / k
    B = inverse[light]
    x0 = max(centre[light, 0] + B[0, 0] * t0 + B[0, 1] * t1 + B[0, 2] * t2, 1e-6)
    x1 = max(centre[light, 1] + B[1, 0] * t0 + B[1, 1] * t1 + B[1, 2] * t2, 1e-6)
    x2 = max(centre[light, 2] + B[2, 0] * t0 + B[2, 1] * t1 + B[2, 2] * t2, 1e-6)
    d0, d1, d2 = slope_in_ratios(target[light], x0, x1, x2)
    if not lean(B, d0, d1, d2, u):
        return False
    grid, more = reach(surface[light], u[0], u[1], u[2])
    plane_weights(points, u, grid + more + MARGIN * radius, light, A, W, margins, omega)
    clearance = beyond(ids, margins, omega, Q, H, M, N)
    if clearance > 0.0:
        return True
    if not close or clearance < -0.02 * radius:
        return False
    # The same with the touching point found exactly: on the way from the middle to the target.
    y = np.empty(3)
    if not surface_point(target[light], radius, x0, x1, x2, y):
        return False
    d0, d1, d2 = slope_in_ratios(target[light], y[0], y[1], y[2])
    if not lean(B, d0, d1, d2, u):
        return False
    bound = 0.0
    for c in range(3):
        t = 0.0
        for e in range(3):
            t += A[light, c, e] * (y[e] - centre[light, e])
        bound += u[c] * t
    # If the ball reaches farther elsewhere it is not convex here, and its grid decides.
    grid, more = reach(surface[light], u[0], u[1], u[2])
    if grid > bound:
        bound = grid + more + MARGIN * radius
    plane_weights(points, u, bound, light, A, W, margins, omega)
    return beyond(ids, margins, omega, Q, H, M, N) > 0.0


@jit
def lean(B, d0, d1, d2, u):
    """The unit normal `u` (3,) in whitened space of a slope in ratios; B = A^-1. False if none."""
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
def surface_point(target, radius, x0, x1, x2, y):
    """The ball's surface between ratios (x0, x1, x2) outside and its centre, into `y` (3,).

    False when that point is inside already.
    """
    f0, f1, f2 = _f(x0), _f(x1), _f(x2)
    dL = 116.0 * f1 - 16.0 - target[0]
    da = 500.0 * (f0 - f1) - target[1]
    db = 200.0 * (f1 - f2) - target[2]
    low, high = 0.0, 1.0
    e_low = -radius
    e_high = (
        delta_e(target[0], target[1], target[2], target[0] + dL, target[1] + da, target[2] + db)
        - radius
    )
    if e_high <= 0.0:
        return False
    for _ in range(40):
        s = low + (high - low) * min(max(-e_low / (e_high - e_low), 0.001), 0.999)
        e = (
            delta_e(
                target[0],
                target[1],
                target[2],
                target[0] + s * dL,
                target[1] + s * da,
                target[2] + s * db,
            )
            - radius
        )
        # The last step is taken outwards, so the plane through it holds the whole ball back.
        if 0.0 <= e < 1e-6:
            high = s
            break
        if e < 0.0:
            low, e_low = s, e
        else:
            high, e_high = s, e
    fy = (target[0] + high * dL + 16.0) / 116.0
    fx = fy + (target[1] + high * da) / 500.0
    fz = fy - (target[2] + high * db) / 200.0
    y[0], y[1], y[2] = _f_back(fx), _f_back(fy), _f_back(fz)
    return True


@jit
def _f_back(f):
    return f * f * f if f > 6.0 / 29.0 else (116.0 * f - 16.0) * 27.0 / 24389.0


@jit
def slope_in_ratios(target, x, y, z):
    """The direction in which CIEDE2000 from `target` (3,) grows, in X/Xn, Y/Yn, Z/Zn."""
    fx, fy, fz = _f(x), _f(y), _f(z)
    L, a, b = 116.0 * fy - 16.0, 500.0 * (fx - fy), 200.0 * (fy - fz)
    grad = np.empty(3)
    delta_e_slopes(target[0], target[1], target[2], L, a, b, grad, np.empty((3, 3)))
    return (
        _f_slope(x) * 500.0 * grad[1],
        _f_slope(y) * (116.0 * grad[0] - 500.0 * grad[1] + 200.0 * grad[2]),
        -_f_slope(z) * 200.0 * grad[2],
    )


@jit
def _invert(a, out):
    c00 = a[1, 1] * a[2, 2] - a[1, 2] * a[2, 1]
    c01 = a[1, 2] * a[2, 0] - a[1, 0] * a[2, 2]
    c02 = a[1, 0] * a[2, 1] - a[1, 1] * a[2, 0]
    det = a[0, 0] * c00 + a[0, 1] * c01 + a[0, 2] * c02
    out[0, 0] = c00 / det
    out[1, 0] = c01 / det
    out[2, 0] = c02 / det
    out[0, 1] = (a[0, 2] * a[2, 1] - a[0, 1] * a[2, 2]) / det
    out[1, 1] = (a[0, 0] * a[2, 2] - a[0, 2] * a[2, 0]) / det
    out[2, 1] = (a[0, 1] * a[2, 0] - a[0, 0] * a[2, 1]) / det
    out[0, 2] = (a[0, 1] * a[1, 2] - a[0, 2] * a[1, 1]) / det
    out[1, 2] = (a[0, 2] * a[1, 0] - a[0, 0] * a[1, 2]) / det
    out[2, 2] = (a[0, 0] * a[1, 1] - a[0, 1] * a[1, 0]) / det


@jit
def spectrum_apart(ids, middle, film, goal, radius, down, Q, H, M, N, margins, omega):
    """Whether every reflectance in the region is farther than `radius` from the goal.

    Twice: band by band, and across the plane towards the goal from the corners' average.
    """
    k = ids.size
    near = 0.0
    norm = 0.0
    for w in range(BANDS):
        low, high, mean = H[ids[0], w], H[ids[0], w], 0.0
        for j in range(k):
            low = min(low, H[ids[j], w])
            high = max(high, H[ids[j], w])
            mean += H[ids[j], w] / k
        if film:
            low, high, mean = middle[w] - down[w], middle[w] + down[w], middle[w]
        d = max(low - goal[w], goal[w] - high, 0.0)
        near += d * d
        omega[w] = mean - goal[w]
        norm += omega[w] * omega[w]
    reach_by = radius * math.sqrt(BANDS) / 100.0
    if math.sqrt(near) > reach_by:
        return True
    if film:
        return False
    for j in range(k):
        total = 0.0
        for w in range(BANDS):
            total += omega[w] * (H[ids[j], w] - goal[w])
        margins[j] = total - reach_by * math.sqrt(norm)
    return beyond(ids, margins, omega, Q, H, M, N) > 0.0


@jit
def count_parts(low, high, most, few):
    """How many whole-part recipes fit shares between `low` and `high` (k,); stops past `few`."""
    k = low.size
    count = 0
    for total in range(k, most + 1):
        ways = 1
        for i in range(k - 1):
            a = max(1, math.ceil(low[i] * total - 1e-7))
            b = math.floor(high[i] * total + 1e-7)
            ways *= max(b - a + 1, 0)
            if ways == 0:
                break
        count += ways
        if count > few:
            return count
    return count


@jit
def try_parts(
    K, S, rows, low, high, most, floor, medium, ground, W, target, goal, work, lab, best_parts
):
    """The best whole-part recipe with shares between `low` and `high`; fills `best_parts` (k,)."""
    k = rows.size
    parts = np.ones(k, np.int64)
    a = np.ones(k, np.int64)
    z = np.ones(k, np.int64)
    best = np.inf
    tried = 0
    for total in range(k, most + 1):
        empty = False
        for i in range(k):
            a[i] = max(1, math.ceil(low[i] * total - 1e-7), math.ceil(floor * total - 1e-9))
            z[i] = math.floor(high[i] * total + 1e-7)
            empty = empty or z[i] < a[i]
            parts[i] = a[i]
        if empty:
            continue
        while True:
            last = total
            for i in range(k - 1):
                last -= parts[i]
            if a[k - 1] <= last <= z[k - 1]:
                parts[k - 1] = last
                g = 0
                for p in parts:
                    c, d = g, p
                    while d:
                        c, d = d, c % d
                    g = c
                if g == 1:
                    tried += 1
                    value = parts_value(
                        K, S, rows, parts, medium, ground, W, target, goal, work, lab
                    )
                    if value < best:
                        best = value
                        for i in range(k):
                            best_parts[i] = parts[i]
            i = k - 2
            while i >= 0:
                parts[i] += 1
                if parts[i] <= z[i]:
                    break
                parts[i] = a[i]
                i -= 1
            if i < 0:
                break
    return best, tried


@jit
def workspace(k, film, planes, A):
    """Room for `examine` to work in, made once for many sets of k paints."""
    lights = A.shape[0]
    B = np.zeros((k + DEEPEST + 1, k))
    for v in range(k):
        B[v, v] = 1.0
    inverse = np.empty((lights, 3, 3))
    for light in range(lights):
        _invert(A[light], inverse[light])
    return (
        np.empty(k, np.int64),
        np.empty((DEEPEST + 4, k), np.int64),
        np.empty(DEEPEST + 4, np.int64),
        B,
        np.empty((k, k)),
        np.empty((k, BANDS)),
        np.empty((k, BANDS)),
        np.empty(BANDS),
        np.empty(BANDS),
        np.empty(planes.shape[1]),
        np.empty(k),
        inverse,
        np.empty(BANDS),
        np.empty((4, BANDS)),
        np.empty((lights, 3)),
        np.empty(3),
        np.empty(3),
        np.empty(k),
        np.empty(k),
        np.empty(k),
        np.empty(k),
        np.ones(k, np.int64),
        np.empty((1 if film else k, 3)),
    )


@jit
def examine(
    rows,
    K,
    S,
    unit,
    n,
    PK,
    PS,
    PN,
    PH,
    PQ,
    PM,
    PT,
    floor,
    most,
    radius,
    budget,
    medium,
    ground,
    W,
    target,
    goal,
    A,
    centre,
    planes,
    support,
    surface,
    record,
    shares_out,
    parts_out,
    space,
):
    """Rule out or solve one set of paints `rows` (k,).

    The pool P* (n + k + DEEPEST rows) holds the paints (in units of strength) and room for
    corners. `radius`: recipes at least this far are of no interest. `record` (4,): least value
    found so far, whether this call lowered it, regions visited, mixtures tried. Returns RULED_OUT
    (no recipe of the set is nearer than `radius`, or than the least value recorded) or OPEN.
    `space`: a `workspace`, overwritten.
    """
    k = rows.size
    film = medium[3] > 0.0
    spectral = not math.isnan(goal[0])
    lights = W.shape[0]
    (
        ids,
        nodes,
        depth,
        B,
        volume,
        Kv,
        Sv,
        down,
        omega,
        along,
        margins,
        inverse,
        middle,
        work,
        lab,
        u,
        x,
        low,
        high,
        share,
        b,
        parts,
        points,
    ) = space
    smallest = floor
    if most > 0:
        smallest = max(floor, 1.0 / most)
    if k * smallest > 1.0 + 1e-9:
        return RULED_OUT
    smallest = min(smallest, 1.0 / k)
    known = smallest > 0.0
    if known:
        corners(K, S, unit, rows, smallest, Kv, Sv, volume)
    for v in range(k):
        nodes[0, v] = v
        if known:
            PK[n + v] = Kv[v]
            PS[n + v] = Sv[v]
            place(n + v, PK, PS, PN, PH, PQ, PM, PT, medium, ground, W, A, centre)
    depth[0] = 0
    top = 1
    visits = 0
    polish_at = POLISH_AFTER
    stuck = False
    while top > 0:
        top -= 1
        d = depth[top]
        for v in range(k):
            lid = nodes[top, v]
            ids[v] = rows[lid] if (lid < k and smallest == 0.0) else n + lid
        visits += 1
        if film:
            film_errors(ids, PK, PS, medium, ground, work, middle, down)
        out = False
        if spectral:
            out = spectrum_apart(
                ids, middle, film, goal, radius, down, PQ, PH, PM, PN, margins, omega
            )
        else:
            for light in range(lights):
                if film:
                    ratios(middle, W, light, x)
                    for c in range(3):
                        points[0, c] = (
                            A[light, c, 0] * (x[0] - centre[light, 0])
                            + A[light, c, 1] * (x[1] - centre[light, 1])
                            + A[light, c, 2] * (x[2] - centre[light, 2])
                        )
                else:
                    for v in range(k):
                        points[v, 0] = PT[ids[v], light, 0]
                        points[v, 1] = PT[ids[v], light, 1]
                        points[v, 2] = PT[ids[v], light, 2]
                out = colour_apart(
                    ids,
                    points,
                    light,
                    A,
                    inverse,
                    centre,
                    W,
                    target,
                    planes,
                    support,
                    surface,
                    radius,
                    film,
                    d >= CLOSE,
                    down,
                    PQ,
                    PH,
                    PM,
                    PN,
                    along,
                    margins,
                    omega,
                    u,
                )
                if out:
                    break
        if out:
            continue
        if most > 0:
            for i in range(k):
                low[i] = 1.0
                high[i] = 0.0
            for v in range(k):
                for i in range(k):
                    b[i] = B[nodes[top, v], i]
                shares_of(b, volume, share)
                for i in range(k):
                    low[i] = min(low[i], share[i])
                    high[i] = max(high[i], share[i])
            if d >= DEEPEST - 1 or count_parts(low, high, most, FEW_PARTS) <= FEW_PARTS:
                value, tried = try_parts(
                    K,
                    S,
                    rows,
                    low,
                    high,
                    most,
                    floor,
                    medium,
                    ground,
                    W,
                    target,
                    goal,
                    work[:3],
                    lab,
                    parts,
                )
                record[3] += tried
                if value < record[0]:
                    record[0] = value
                    record[1] = 1.0
                    total = 0
                    for i in range(k):
                        parts_out[i] = parts[i]
                        total += parts[i]
                    for i in range(k):
                        shares_out[i] = parts[i] / total
                continue
        elif visits >= polish_at:
            polish_at *= 2
            if not known:
                corners(K, S, unit, rows, smallest, Kv, Sv, volume)
                known = True
            for i in range(k):
                b[i] = 0.0
                for v in range(k):
                    b[i] += B[nodes[top, v], i] / k
            value = polish(Kv, Sv, b, medium, ground, W, target, goal, 25)
            record[3] += 10
            if value < record[0]:
                record[0] = value
                record[1] = 1.0
                shares_of(b, volume, share)
                for i in range(k):
                    shares_out[i] = share[i]
                if value < radius * 0.98 or value < radius - 0.05:
                    record[2] += visits
                    return OPEN
        if visits >= budget:
            record[2] += visits
            return OPEN
        if d >= DEEPEST - 1:
            # Nothing more can be said of this speck; the rest may still hold something better.
            stuck = True
            continue
        if k == 1:
            # One paint has no proportions to cut; its one colour was met in the first search.
            continue
        # Cut the edge whose ends differ most in reflectance.
        widest = -1.0
        e0 = 0
        e1 = 1
        for v in range(k):
            for v2 in range(v + 1, k):
                far = 0.0
                for w in range(BANDS):
                    far += abs(PH[ids[v], w] - PH[ids[v2], w])
                if far > widest:
                    widest = far
                    e0, e1 = v, v2
        new = k + d
        q = n + new
        i0, i1 = ids[e0], ids[e1]
        for w in range(BANDS):
            PK[q, w] = 0.5 * (PK[i0, w] + PK[i1, w])
            PS[q, w] = 0.5 * (PS[i0, w] + PS[i1, w])
        l0, l1 = nodes[top, e0], nodes[top, e1]
        for i in range(k):
            B[new, i] = 0.5 * (B[l0, i] + B[l1, i])
        place(q, PK, PS, PN, PH, PQ, PM, PT, medium, ground, W, A, centre)
        for v in range(k):
            nodes[top + 1, v] = nodes[top, v]
        nodes[top, e0] = new
        nodes[top + 1, e1] = new
        depth[top] = d + 1
        depth[top + 1] = d + 1
        top += 2
    record[2] += visits
    return OPEN if stuck else RULED_OUT


@jit
def choose_ball(need, radii):
    """The smallest of the balls (falling `radii`) that holds radius `need`."""
    at = 0
    for i in range(radii.size):
        if radii[i] >= need:
            at = i
    return at


@jit
def examine_sets(
    sets,
    extra,
    penalty,
    K,
    S,
    unit,
    PK,
    PS,
    PN,
    PH,
    PQ,
    PM,
    PT,
    floor,
    most,
    tolerance,
    budget,
    medium,
    ground,
    W,
    target,
    goal,
    A,
    centre,
    planes,
    radii,
    support,
    surface,
    shared,
    record,
    best_rows,
    best_shares,
    best_parts,
    still_open,
):
    """Examine `sets` (m, size) of paints; `still_open` (m,) receives what is not ruled out.

    A recipe costs its distance, `extra` and its paints' `penalty` (n,). `shared` (1,): the least
    cost found by any thread, read and lowered. `record` (4,): least cost found here, _, regions,
    mixtures. `best_*` (size,) describe that recipe. The balls have falling `radii` (m,); `support`
    (m, lights, planes), `surface` (m, lights, g, 3).
    """
    n = K.shape[0]
    size = sets.shape[1]
    call = np.zeros(4)
    shares_out = np.empty(size)
    parts_out = np.ones(size, np.int64)
    space = workspace(size, medium[3] > 0.0, planes, A)
    for r in range(sets.shape[0]):
        wish = extra
        for v in range(size):
            wish += penalty[sets[r, v]]
        need = shared[0] - tolerance - wish
        still_open[r] = False
        if need <= 0.0:
            continue
        at_ball = choose_ball(need, radii)
        call[0] = shared[0] - wish
        call[1] = 0.0
        call[2] = 0.0
        call[3] = 0.0
        state = examine(
            sets[r],
            K,
            S,
            unit,
            n,
            PK,
            PS,
            PN,
            PH,
            PQ,
            PM,
            PT,
            floor,
            most,
            radii[at_ball],
            budget,
            medium,
            ground,
            W,
            target,
            goal,
            A,
            centre,
            planes,
            support[at_ball],
            surface[at_ball],
            call,
            shares_out,
            parts_out,
            space,
        )
        record[2] += call[2]
        record[3] += call[3]
        cost = call[0] + wish
        if call[1] > 0.0 and cost < record[0]:
            record[0] = cost
            for v in range(size):
                best_rows[v] = sets[r, v]
                best_shares[v] = shares_out[v]
                best_parts[v] = parts_out[v]
            if cost < shared[0]:
                shared[0] = cost
        still_open[r] = state == OPEN
