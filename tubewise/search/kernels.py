"""The compiled heart of the search: mixture, reflectance, CIELAB, CIEDE2000 and their slopes.

Everything here is numba code over plain float64 arrays on the 36 bands of `tubewise.colour.grid`.
Kernels release the interpreter lock and run single-threaded; callers spread batches over Python
threads, which is safe under any server or test runner, unlike numba's own threading layers.

Sources: Kubelka & Munk 1931 and Kubelka 1948 (films), Saunderson 1942 (surface), ISO/CIE 11664-4
and 11664-6 (CIELAB, CIEDE2000).
"""

# Kernels take plain float64 arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math

import numpy as np

from tubewise.search.jit import jit

BANDS = 36
_EPS = 216.0 / 24389.0
_KAPPA = 24389.0 / 27.0
_25_7 = 6103515625.0
# Below this the slope of reflectance in K at K = 0 is cut off: it is infinite in theory.
_ROOT_FLOOR = 1e-7


@jit
def reflectance(K, S, medium, ground, out):
    """Measured reflectance of one paint film into `out` (36,).

    `K`, `S` (36,): absorption and scattering. `medium` = (k2, (1-k1)(1-k2), base, X) with base = k1
    when the gloss is included, X the film's thickness or 0 for an opaque film. `ground` (36,): the
    internal reflectance below a film.
    """
    k2, gain, base, X = medium[0], medium[1], medium[2], medium[3]
    if X <= 0.0:
        for w in range(BANDS):
            root = math.sqrt(K[w] * (K[w] + 2.0 * S[w]))
            out[w] = base + gain * S[w] / (K[w] + (1.0 - k2) * S[w] + root + 1e-300)
        return
    for w in range(BANDS):
        beta = math.sqrt(K[w] * (K[w] + 2.0 * S[w]))
        z = beta * X
        y = (1.0 + z * z / 3.0) / X if z < 1e-3 else beta / math.tanh(z)
        g = ground[w]
        R = (S[w] - g * (K[w] + S[w] - y)) / (K[w] + S[w] - g * S[w] + y)
        out[w] = base + gain * R / (1.0 - k2 * R)


@jit
def reflectance_slopes(K, S, medium, ground, out, dK, dS):
    """As `reflectance`, and its partial derivatives in K and S, all (36,)."""
    k2, gain, base, X = medium[0], medium[1], medium[2], medium[3]
    if X <= 0.0:
        for w in range(BANDS):
            root = math.sqrt(K[w] * (K[w] + 2.0 * S[w]))
            P = K[w] + (1.0 - k2) * S[w] + root + 1e-300
            steep = max(root, _ROOT_FLOOR * (K[w] + S[w]) + 1e-300)
            out[w] = base + gain * S[w] / P
            slope = gain / (P * P) * (1.0 + (K[w] + S[w]) / steep)
            dK[w] = -slope * S[w]
            dS[w] = slope * K[w]
        return
    for w in range(BANDS):
        beta = math.sqrt(K[w] * (K[w] + 2.0 * S[w]))
        z = beta * X
        if z < 1e-3:
            y = (1.0 + z * z / 3.0) / X
            phi = X * 2.0 / 3.0
        elif z > 300.0:
            y = beta
            phi = 1.0 / beta
        else:
            t = math.tanh(z)
            sh = math.sinh(z)
            y = beta / t
            phi = (1.0 / t - z / (sh * sh)) / beta
        g = ground[w]
        N = S[w] - g * (K[w] + S[w] - y)
        D = K[w] + S[w] - g * S[w] + y
        yK = (K[w] + S[w]) * phi
        yS = K[w] * phi
        R = N / D
        RK = (-g * (1.0 - yK) - R * (1.0 + yK)) / D
        RS = (1.0 - g * (1.0 - yS) - R * (1.0 - g + yS)) / D
        q = 1.0 - k2 * R
        out[w] = base + gain * R / q
        dK[w] = gain / (q * q) * RK
        dS[w] = gain / (q * q) * RS


@jit
def _cbrt(x):
    """Cube root of 216/24389..1.3 to the last digit or two; divisions only, so it vectorises.

    A rational start good to 0.7 % (fitted by least squares) and two steps of Halley's method.
    """
    y = (0.135391 + x * (14.063213 + x * 41.628692)) / (1.0 + x * (29.646363 + x * 25.047084))
    y3 = y * y * y
    y = y * (y3 + 2.0 * x) / (2.0 * y3 + x)
    y3 = y * y * y
    return y * (y3 + 2.0 * x) / (2.0 * y3 + x)


@jit
def _f(x):
    return _cbrt(min(x, 1.3)) if x > _EPS else (_KAPPA * x + 16.0) / 116.0


@jit
def _f_slope(x):
    if x <= _EPS:
        return _KAPPA / 116.0
    y = _cbrt(min(x, 1.3))
    return 1.0 / (3.0 * y * y)


@jit
def ratios(R, W, light, out):
    """X/Xn, Y/Yn, Z/Zn of `R` (36,) into `out` (3,); `W` (lights, 3, 36) is already over white."""
    x = 0.0
    y = 0.0
    z = 0.0
    for w in range(BANDS):
        x += W[light, 0, w] * R[w]
        y += W[light, 1, w] * R[w]
        z += W[light, 2, w] * R[w]
    out[0] = x
    out[1] = y
    out[2] = z


@jit
def lab_of_ratios(x, out):
    """CIELAB (3,) of X/Xn, Y/Yn, Z/Zn (3,)."""
    fx, fy, fz = _f(x[0]), _f(x[1]), _f(x[2])
    out[0] = 116.0 * fy - 16.0
    out[1] = 500.0 * (fx - fy)
    out[2] = 200.0 * (fy - fz)


@jit
def delta_e(L1, a1, b1, L2, a2, b2):
    """CIEDE2000 of two CIELAB colours."""
    C1 = math.sqrt(a1 * a1 + b1 * b1)
    C2 = math.sqrt(a2 * a2 + b2 * b2)
    Cb = 0.5 * (C1 + C2)
    Cb2 = Cb * Cb
    P = Cb2 * Cb2 * Cb2 * Cb
    G = 0.5 * (1.0 - math.sqrt(P / (P + _25_7)))
    p1 = (1.0 + G) * a1
    p2 = (1.0 + G) * a2
    D1 = math.sqrt(p1 * p1 + b1 * b1)
    D2 = math.sqrt(p2 * p2 + b2 * b2)
    h1 = math.atan2(b1, p1)
    h2 = math.atan2(b2, p2)
    if h1 < 0.0:
        h1 += 2.0 * math.pi
    if h2 < 0.0:
        h2 += 2.0 * math.pi
    dh = h2 - h1
    hb = 0.5 * (h1 + h2)
    if D1 * D2 == 0.0:
        dh = 0.0
        hb = h1 + h2
    elif dh > math.pi:
        dh -= 2.0 * math.pi
        hb += math.pi
    elif dh < -math.pi:
        dh += 2.0 * math.pi
        hb += math.pi
    if hb >= 2.0 * math.pi:
        hb -= 2.0 * math.pi
    dH = 2.0 * math.sqrt(D1 * D2) * math.sin(0.5 * dh)
    Db = 0.5 * (D1 + D2)
    zL = 0.5 * (L1 + L2) - 50.0
    SL = 1.0 + 0.015 * zL * zL / math.sqrt(20.0 + zL * zL)
    T = (
        1.0
        - 0.17 * math.cos(hb - math.pi / 6.0)
        + 0.24 * math.cos(2.0 * hb)
        + 0.32 * math.cos(3.0 * hb + math.pi / 30.0)
        - 0.20 * math.cos(4.0 * hb - 63.0 * math.pi / 180.0)
    )
    SC = 1.0 + 0.045 * Db
    SH = 1.0 + 0.015 * Db * T
    t = (hb * 180.0 / math.pi - 275.0) / 25.0
    theta = math.pi / 6.0 * math.exp(-t * t)
    Db2 = Db * Db
    Q = Db2 * Db2 * Db2 * Db
    RT = -2.0 * math.sqrt(Q / (Q + _25_7)) * math.sin(2.0 * theta)
    eL = (L2 - L1) / SL
    eC = (D2 - D1) / SC
    eH = dH / SH
    return math.sqrt(max(eL * eL + eC * eC + eH * eH + RT * eC * eH, 0.0))


@jit
def delta_e_slopes(L1, a1, b1, L2, a2, b2, grad, metric):
    """CIEDE2000 squared, with the slope of its half in the second colour.

    `grad` (3,) receives d(dE^2/2)/d(L2, a2, b2), exact; `metric` (3, 3) the Gauss-Newton matrix
    made of the first derivatives of the three weighted differences.
    """
    C1 = math.sqrt(a1 * a1 + b1 * b1)
    C2 = math.sqrt(a2 * a2 + b2 * b2)
    Cb = 0.5 * (C1 + C2)
    P = Cb**7
    root = math.sqrt(P / (P + _25_7))
    G = 0.5 * (1.0 - root)
    G_C = 0.0
    if Cb > 1e-9:
        G_C = -0.25 * 7.0 * Cb**6 * _25_7 / ((P + _25_7) ** 2 * root)
    p1 = (1.0 + G) * a1
    p2 = (1.0 + G) * a2
    D1 = math.sqrt(p1 * p1 + b1 * b1)
    D2 = math.sqrt(p2 * p2 + b2 * b2)
    h1 = math.atan2(b1, p1)
    h2 = math.atan2(b2, p2)
    if h1 < 0.0:
        h1 += 2.0 * math.pi
    if h2 < 0.0:
        h2 += 2.0 * math.pi
    dh = h2 - h1
    hb = 0.5 * (h1 + h2)
    flat = D1 * D2 < 1e-12
    if flat:
        dh = 0.0
        hb = h1 + h2
    elif dh > math.pi:
        dh -= 2.0 * math.pi
        hb += math.pi
    elif dh < -math.pi:
        dh += 2.0 * math.pi
        hb += math.pi
    if hb >= 2.0 * math.pi:
        hb -= 2.0 * math.pi
    gm = math.sqrt(D1 * D2)
    sin_h, cos_h = math.sin(0.5 * dh), math.cos(0.5 * dh)
    dH = 2.0 * gm * sin_h
    Db = 0.5 * (D1 + D2)
    zL = 0.5 * (L1 + L2) - 50.0
    rL = math.sqrt(20.0 + zL * zL)
    SL = 1.0 + 0.015 * zL * zL / rL
    SL_L = 0.5 * 0.015 * (2.0 * zL / rL - zL**3 / rL**3)
    T = (
        1.0
        - 0.17 * math.cos(hb - math.pi / 6.0)
        + 0.24 * math.cos(2.0 * hb)
        + 0.32 * math.cos(3.0 * hb + math.pi / 30.0)
        - 0.20 * math.cos(4.0 * hb - 63.0 * math.pi / 180.0)
    )
    T_h = (
        0.17 * math.sin(hb - math.pi / 6.0)
        - 0.48 * math.sin(2.0 * hb)
        - 0.96 * math.sin(3.0 * hb + math.pi / 30.0)
        + 0.80 * math.sin(4.0 * hb - 63.0 * math.pi / 180.0)
    )
    SC = 1.0 + 0.045 * Db
    SH = 1.0 + 0.015 * Db * T
    t = (hb * 180.0 / math.pi - 275.0) / 25.0
    theta = math.pi / 6.0 * math.exp(-t * t)
    theta_h = theta * (-2.0 * t / 25.0) * 180.0 / math.pi
    Q = Db**7
    RC = 2.0 * math.sqrt(Q / (Q + _25_7))
    RC_D = 0.0
    if Db > 1e-9:
        RC_D = 4.0 * 0.5 * 7.0 * Db**6 * _25_7 / ((Q + _25_7) ** 2 * RC)
    RT = -math.sin(2.0 * theta) * RC
    eL = (L2 - L1) / SL
    eC = (D2 - D1) / SC
    eH = dH / SH
    eL_L = 1.0 / SL - eL / SL * SL_L
    grad[0] = eL * eL_L
    for i in range(3):
        for j in range(3):
            metric[i, j] = 0.0
    metric[0, 0] = eL_L * eL_L
    c = np.empty(2)
    h = np.empty(2)
    for x in range(2):
        C2_x = ((a2 if x == 0 else b2) / C2) if C2 > 1e-9 else 1.0
        G_x = G_C * 0.5 * C2_x
        p1_x = a1 * G_x
        p2_x = a2 * G_x + (1.0 + G if x == 0 else 0.0)
        b2_x = 0.0 if x == 0 else 1.0
        D1_x = p1 * p1_x / D1 if D1 > 1e-9 else 0.0
        D2_x = (p2 * p2_x + b2 * b2_x) / D2 if D2 > 1e-9 else 1.0
        h1_x = -b1 * p1_x / (D1 * D1) if D1 > 1e-6 else 0.0
        h2_x = (p2 * b2_x - b2 * p2_x) / (D2 * D2) if D2 > 1e-6 else 0.0
        hb_x = h2_x if flat else 0.5 * (h1_x + h2_x)
        dH_x = 0.0
        if not flat:
            dH_x = sin_h * (D1_x * D2 + D1 * D2_x) / gm + gm * cos_h * (h2_x - h1_x)
        Db_x = 0.5 * (D1_x + D2_x)
        c[x] = (D2_x - D1_x - eC * 0.045 * Db_x) / SC
        h[x] = (dH_x - eH * 0.015 * (Db_x * T + Db * T_h * hb_x)) / SH
        RT_x = -2.0 * math.cos(2.0 * theta) * theta_h * hb_x * RC - math.sin(2.0 * theta) * (
            RC_D * Db_x
        )
        grad[1 + x] = eC * c[x] + eH * h[x] + 0.5 * (RT_x * eC * eH + RT * (c[x] * eH + eC * h[x]))
    for x in range(2):
        for y in range(2):
            metric[1 + x, 1 + y] = (
                c[x] * c[y] + h[x] * h[y] + 0.5 * RT * (c[x] * h[y] + h[x] * c[y])
            )
    return max(eL * eL + eC * eC + eH * eH + RT * eC * eH, 0.0)


@jit
def mixture_value(K, S, rows, b, medium, ground, W, target, goal, work, lab):
    """How far one mixture is from the target.

    `rows` (k,) picks rows of `K`, `S` (n, 36); `b` (k,) are their amounts. `target` (lights, 3) in
    CIELAB. `goal` (36,): NaN in its first band means CIEDE2000, the worst of the lights; otherwise
    it's a reflectance and the value is 100 times the root-mean-square difference from it.
    `work` (3, 36) and `lab` (lights, 3) are overwritten.
    """
    Km, Sm, R = work[0], work[1], work[2]
    for w in range(BANDS):
        Km[w] = 0.0
        Sm[w] = 0.0
    for i in range(rows.size):
        Ki, Si = K[rows[i]], S[rows[i]]
        bi = b[i]
        for w in range(BANDS):
            Km[w] += bi * Ki[w]
            Sm[w] += bi * Si[w]
    reflectance(Km, Sm, medium, ground, R)
    return value_of_reflectance(R, W, target, goal, lab)


@jit
def value_of_reflectance(R, W, target, goal, lab):
    """The objective of one reflectance (36,); see `mixture_value`."""
    x = np.empty(3)
    worst = 0.0
    for light in range(W.shape[0]):
        ratios(R, W, light, x)
        lab_of_ratios(x, lab[light])
        if math.isnan(goal[0]):
            e = delta_e(
                target[light, 0],
                target[light, 1],
                target[light, 2],
                lab[light, 0],
                lab[light, 1],
                lab[light, 2],
            )
            worst = max(worst, e)
    if not math.isnan(goal[0]):
        total = 0.0
        for w in range(BANDS):
            d = R[w] - goal[w]
            total += d * d
        worst = 100.0 * math.sqrt(total / BANDS)
    return worst
