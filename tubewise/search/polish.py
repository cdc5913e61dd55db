"""The finish: Gauss-Newton in CIELAB on the amounts of one set of paints.

An opaque mixture's colour does not change when every paint's K and S are scaled with its amount,
so the amounts here are in units of each paint's strength (`problem.strength_units`): half and half
then lies about half-way in appearance, for white with phthalocyanine as for white with ochre.
"""

# Kernels take plain float64 arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math

import numpy as np

from tubewise.search.jit import jit
from tubewise.search.kernels import (
    BANDS,
    _f_slope,
    delta_e_slopes,
    lab_of_ratios,
    ratios,
    reflectance,
    reflectance_slopes,
    value_of_reflectance,
)

GOOD_ENOUGH = 1e-7


@jit
def corners(K, S, unit, rows, floor, Kv, Sv, volume):
    """The corners of the allowed shares of a set of paints, as mixtures.

    With no smallest share they are the paints themselves. Fills `Kv`, `Sv` (k, 36) and `volume`
    (k, k): the volume of each paint in one unit of amount of each corner.
    """
    k = rows.size
    for v in range(k):
        for w in range(BANDS):
            Kv[v, w] = 0.0
            Sv[v, w] = 0.0
        for i in range(k):
            share = floor + (1.0 - k * floor if i == v else 0.0)
            amount = share * unit[rows[v]]
            volume[v, i] = amount
            if amount > 0.0:
                for w in range(BANDS):
                    Kv[v, w] += amount * K[rows[i], w]
                    Sv[v, w] += amount * S[rows[i], w]


@jit
def shares_of(b, volume, out):
    """Volume shares (k,) of the paints from amounts `b` of the corners."""
    k = b.size
    total = 0.0
    for i in range(k):
        out[i] = 0.0
        for v in range(k):
            out[i] += b[v] * volume[v, i]
        total += out[i]
    for i in range(k):
        out[i] /= total


@jit
def amounts_of(shares, unit, rows, floor, b):
    """Amounts `b` (k,) of the corners from volume shares; shares below the floor are lifted."""
    k = b.size
    total = 0.0
    for i in range(k):
        b[i] = max(shares[i] - floor, 0.0) / unit[rows[i]]
        total += b[i]
    for i in range(k):
        b[i] = b[i] / total if total > 0.0 else 1.0 / k


@jit
def blend(Kv, Sv, b, Km, Sm):
    """K and S (36,) of amounts `b` (k,) of the corners."""
    for w in range(BANDS):
        Km[w] = 0.0
        Sm[w] = 0.0
    for i in range(b.size):
        for w in range(BANDS):
            Km[w] += b[i] * Kv[i, w]
            Sm[w] += b[i] * Sv[i, w]


@jit
def value_at(Kv, Sv, b, medium, ground, W, target, goal, lab):
    """The objective at amounts `b`; `lab` (lights, 3) is filled."""
    work = np.empty((3, BANDS))
    blend(Kv, Sv, b, work[0], work[1])
    reflectance(work[0], work[1], medium, ground, work[2])
    return value_of_reflectance(work[2], W, target, goal, lab)


@jit
def lab_slopes(Kv, Sv, b, medium, ground, W, light, lab, J):
    """CIELAB (3,) under one light and its derivatives `J` (3, k) in the amounts."""
    k = b.size
    work = np.empty((5, BANDS))
    blend(Kv, Sv, b, work[0], work[1])
    reflectance_slopes(work[0], work[1], medium, ground, work[2], work[3], work[4])
    x = np.empty(3)
    ratios(work[2], W, light, x)
    lab_of_ratios(x, lab)
    s0, s1, s2 = _f_slope(x[0]), _f_slope(x[1]), _f_slope(x[2])
    for i in range(k):
        d0 = 0.0
        d1 = 0.0
        d2 = 0.0
        for w in range(BANDS):
            d = work[3, w] * Kv[i, w] + work[4, w] * Sv[i, w]
            d0 += W[light, 0, w] * d
            d1 += W[light, 1, w] * d
            d2 += W[light, 2, w] * d
        J[0, i] = 116.0 * s1 * d1
        J[1, i] = 500.0 * (s0 * d0 - s1 * d1)
        J[2, i] = 200.0 * (s1 * d1 - s2 * d2)


@jit
def _solve(A, y, n):
    """Gaussian elimination with pivoting, in place; the answer is left in `y`."""
    for c in range(n):
        p = c
        for r in range(c + 1, n):
            if abs(A[r, c]) > abs(A[p, c]):
                p = r
        if abs(A[p, c]) < 1e-300:
            A[p, c] = 1e-300
        if p != c:
            for j in range(n):
                A[c, j], A[p, j] = A[p, j], A[c, j]
            y[c], y[p] = y[p], y[c]
        for r in range(c + 1, n):
            m = A[r, c] / A[c, c]
            if m != 0.0:
                for j in range(c, n):
                    A[r, j] -= m * A[c, j]
                y[r] -= m * y[c]
    for c in range(n - 1, -1, -1):
        for j in range(c + 1, n):
            y[c] -= A[c, j] * y[j]
        y[c] /= A[c, c]


@jit
def _step(H, g, b, mu, d):
    """The step `d` (k,): least model on the simplex, holding amounts that would go below zero."""
    k = b.size
    held = np.zeros(k, np.bool_)
    A = np.empty((k + 1, k + 1))
    y = np.empty(k + 1)
    low = g[0]
    for i in range(k):
        low = min(low, g[i])
    mean = 0.0
    for i in range(k):
        mean += b[i] * g[i]
    for i in range(k):
        held[i] = b[i] <= 1e-14 and g[i] >= mean and g[i] > low
    for _ in range(k):
        n = 0
        for i in range(k):
            if not held[i]:
                n += 1
        if n <= 1:
            break
        r = 0
        for i in range(k):
            if held[i]:
                continue
            c = 0
            for j in range(k):
                if held[j]:
                    continue
                A[r, c] = H[i, j]
                c += 1
            A[r, r] += mu * (H[i, i] + 1e-9)
            A[r, n] = 1.0
            A[n, r] = 1.0
            rhs = -g[i]
            for j in range(k):
                if held[j]:
                    rhs += H[i, j] * b[j]
            y[r] = rhs
            r += 1
        A[n, n] = 0.0
        free_sum = 0.0
        for j in range(k):
            if held[j]:
                free_sum += b[j]
        y[n] = free_sum
        _solve(A, y, n + 1)
        r = 0
        worst = -1
        worst_by = 0.0
        for i in range(k):
            if held[i]:
                d[i] = -b[i]
            else:
                d[i] = y[r]
                r += 1
                if b[i] + d[i] < -1e-15 and -(b[i] + d[i]) > worst_by:
                    worst_by = -(b[i] + d[i])
                    worst = i
        if worst < 0:
            return True
        held[worst] = True
    last = 0
    for i in range(k):
        d[i] = -b[i]
        if not held[i]:
            last = i
    d[last] = 1.0 - b[last]
    return True


@jit
def _model(Kv, Sv, b, medium, ground, W, target, goal, share, work, g, H, errors):
    """Slope `g` (k,) and Gauss-Newton matrix `H` (k, k) of half the squared objective.

    `share` (lights,) weighs the lights. Returns the objective; `errors` (lights,) is filled.
    """
    k = b.size
    lights = W.shape[0]
    Km, Sm, R, dK, dS = work[0], work[1], work[2], work[3], work[4]
    blend(Kv, Sv, b, Km, Sm)
    reflectance_slopes(Km, Sm, medium, ground, R, dK, dS)
    for i in range(k):
        g[i] = 0.0
        for j in range(k):
            H[i, j] = 0.0
    if not math.isnan(goal[0]):
        scale = 1e4 / BANDS
        total = 0.0
        for w in range(BANDS):
            e = R[w] - goal[w]
            total += e * e
            for i in range(k):
                di = dK[w] * Kv[i, w] + dS[w] * Sv[i, w]
                g[i] += scale * e * di
                for j in range(i, k):
                    H[i, j] += scale * di * (dK[w] * Kv[j, w] + dS[w] * Sv[j, w])
        for i in range(k):
            for j in range(i):
                H[i, j] = H[j, i]
        return math.sqrt(scale * total)
    worst = 0.0
    x = np.empty(3)
    lab = np.empty(3)
    grad = np.empty(3)
    metric = np.empty((3, 3))
    J = np.empty((3, k))
    for light in range(lights):
        ratios(R, W, light, x)
        lab_of_ratios(x, lab)
        e2 = delta_e_slopes(
            target[light, 0],
            target[light, 1],
            target[light, 2],
            lab[0],
            lab[1],
            lab[2],
            grad,
            metric,
        )
        errors[light] = math.sqrt(e2)
        worst = max(worst, errors[light])
        if share[light] <= 0.0:
            continue
        s0, s1, s2 = _f_slope(x[0]), _f_slope(x[1]), _f_slope(x[2])
        for i in range(k):
            d0 = 0.0
            d1 = 0.0
            d2 = 0.0
            for w in range(BANDS):
                d = dK[w] * Kv[i, w] + dS[w] * Sv[i, w]
                d0 += W[light, 0, w] * d
                d1 += W[light, 1, w] * d
                d2 += W[light, 2, w] * d
            J[0, i] = 116.0 * s1 * d1
            J[1, i] = 500.0 * (s0 * d0 - s1 * d1)
            J[2, i] = 200.0 * (s1 * d1 - s2 * d2)
        for i in range(k):
            m0 = metric[0, 0] * J[0, i]
            m1 = metric[1, 1] * J[1, i] + metric[1, 2] * J[2, i]
            m2 = metric[2, 1] * J[1, i] + metric[2, 2] * J[2, i]
            g[i] += share[light] * (grad[0] * J[0, i] + grad[1] * J[1, i] + grad[2] * J[2, i])
            for j in range(k):
                H[i, j] += share[light] * (m0 * J[0, j] + m1 * J[1, j] + m2 * J[2, j])
    return worst


@jit
def polish(Kv, Sv, b, medium, ground, W, target, goal, rounds):
    """Improve amounts `b` (k,) in place to a local optimum; returns the objective there.

    A damped Gauss-Newton on the simplex. With several lights it minimises the worst of them: the
    weights of the lights drift towards those that are worst, and the best point met is kept.
    """
    k = b.size
    lights = W.shape[0]
    work = np.empty((5, BANDS))
    g = np.empty(k)
    H = np.empty((k, k))
    d = np.empty(k)
    trial = np.empty(k)
    lab = np.empty((lights, 3))
    errors = np.zeros(lights)
    share = np.zeros(lights)
    many = lights > 1 and math.isnan(goal[0])
    for light in range(lights):
        share[light] = 1.0 / lights
    best = value_at(Kv, Sv, b, medium, ground, W, target, goal, lab)
    if k == 1:
        return best
    mu = 1e-3
    stalls = 0
    for _ in range(rounds):
        now = _model(Kv, Sv, b, medium, ground, W, target, goal, share, work, g, H, errors)
        if now < GOOD_ENOUGH:
            break
        improved = False
        for _attempt in range(6):
            _step(H, g, b, mu, d)
            size = 0.0
            total = 0.0
            for i in range(k):
                trial[i] = max(b[i] + d[i], 0.0)
                total += trial[i]
            for i in range(k):
                trial[i] /= total
                size = max(size, abs(trial[i] - b[i]))
            value = value_at(Kv, Sv, trial, medium, ground, W, target, goal, lab)
            if value < now:
                improved = True
                for i in range(k):
                    b[i] = trial[i]
                mu = max(mu * 0.2, 1e-9)
                gain = now - value
                now = value
                break
            mu = max(mu * 8.0, 1e-6)
            if size < 1e-12:
                break
        best = min(best, now)
        if many:
            total = 0.0
            for light in range(lights):
                share[light] *= math.exp(3.0 * (errors[light] - now) / (now + 1e-9))
                share[light] = max(share[light], 1e-4)
                total += share[light]
            for light in range(lights):
                share[light] /= total
            if improved and gain > 1e-6:
                stalls = 0
            else:
                stalls += 1
                mu = min(mu, 1.0)
            if stalls > 12:
                break
        elif not improved or gain < 1e-9 * (1.0 + now):
            break
    return best
