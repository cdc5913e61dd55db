"""Bounds on reflectance anywhere in a region."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from tubewise.search.jit import jit
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.reflectance import reflectance


@jit
def film_bounds(ids, vertices, film, work, middle, half):
    """Reflectance of a film anywhere in the region: `middle` (36,) give or take `half` (36,).

    `work` (4, 36) is overwritten.
    """
    K, S = vertices.K, vertices.S
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
    reflectance(work[0], work[3], film, middle)
    reflectance(work[1], work[2], film, half)
    for w in range(BANDS):
        high, low = middle[w], half[w]
        middle[w] = 0.5 * (high + low)
        half[w] = 0.5 * (high - low)


@jit
def clearance(i0, i1, i2, i3, m0, m1, m2, m3, omega, vertices):
    """How far the mixtures of four vertices lie beyond a plane, at least; below 0: undecided.

    `i0`..`i3`: rows of the vertices, i0 the nearest to the plane, with margins `m0`..`m3` > 0;
    `omega` (36,): the plane as weights of the bands.

    With weights b of the vertices, reflectance is rho(sum b' q), b' = b N / sum b N. rho is convex,
    so at each band it lies
      below sum b' rho(q_j);
      above that less the greatest gap between the chord over all q and the tangents at its ends;
      above the tangent at the nearest vertex, taken at sum b' q.
    Changing b' for b costs a covariance over the vertices, at most a quarter of both ranges'
    product (`tilt`). Where a band counts downwards the first bound is used, where it counts upwards
    the second or third, whichever takes the smaller part of the margins. All are linear in b, so
    the vertices decide.
    """
    Q, H, M, N = vertices.q, vertices.R, vertices.slope, vertices.N
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
        # Losses of the tangent at the nearest vertex, at the other vertices.
        t1 = h1 - h0 - s0 * (q1 - q0)
        t2 = h2 - h0 - s0 * (q2 - q0)
        t3 = h3 - h0 - s0 * (q3 - q0)
        # Its values over the vertices run from h0 + s0 (most q) to h0 + s0 (least q).
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
def beyond(ids, margins, omega, vertices):
    """`clearance` of up to four vertices `ids` with `margins`; fewer: the nearest fills up."""
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
    return clearance(i0, i1, i2, i3, m0, m1, m2, m3, omega, vertices)
