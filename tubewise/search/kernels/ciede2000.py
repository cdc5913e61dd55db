"""CIEDE2000 (ISO/CIE 11664-6) and its slopes, said once for all compiled code.

Numbers in brackets are the equations of Sharma, Wu & Dalal, Color Res. Appl. 30, 2005, who write
the standard's formula out; kL = kC = kH = 1.
"""

# Kernels take the types of `layout`; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from typing import NamedTuple

from tubewise.search.jit import jit

TURN = 2.0 * math.pi
_25_TO_7 = 25.0**7
# Chromas below this have no hue whose slope could be followed.
NO_HUE = 1e-6


class Terms(NamedTuple):
    """The formula's terms for two colours: `p` for a', `C` for C', `h` for h', `m` for means."""

    root: float
    G: float
    p1: float
    p2: float
    C1: float
    C2: float
    dh: float
    mL: float
    mC: float
    mh: float
    T: float
    theta: float
    RC: float
    SL: float
    SC: float
    SH: float
    RT: float
    eL: float
    eC: float
    eH: float


@jit
def to_the_7th(x):
    """The seventh power, by products."""
    square = x * x
    return square * square * square * x


@jit
def terms(L1, a1, b1, L2, a2, b2):
    """All terms of the difference between two CIELAB colours."""
    mean = 0.5 * (math.sqrt(a1 * a1 + b1 * b1) + math.sqrt(a2 * a2 + b2 * b2))  # (2), (3)
    power = to_the_7th(mean)
    root = math.sqrt(power / (power + _25_TO_7))
    G = 0.5 * (1.0 - root)  # (4)
    p1, p2 = (1.0 + G) * a1, (1.0 + G) * a2  # (5)
    C1, C2 = math.sqrt(p1 * p1 + b1 * b1), math.sqrt(p2 * p2 + b2 * b2)  # (6)
    h1, h2 = math.atan2(b1, p1), math.atan2(b2, p2)  # (7)
    if h1 < 0.0:
        h1 += TURN
    if h2 < 0.0:
        h2 += TURN
    dh = h2 - h1  # (10)
    mh = 0.5 * (h1 + h2)  # (14)
    if C1 * C2 == 0.0:
        dh = 0.0
        mh = h1 + h2
    elif dh > math.pi:
        dh -= TURN
        mh += math.pi
    elif dh < -math.pi:
        dh += TURN
        mh += math.pi
    if mh >= TURN:
        mh -= TURN
    dH = 2.0 * math.sqrt(C1 * C2) * math.sin(0.5 * dh)  # (11)
    mL = 0.5 * (L1 + L2)  # (12)
    mC = 0.5 * (C1 + C2)  # (13)
    T = (  # (15)
        1.0
        - 0.17 * math.cos(mh - math.radians(30.0))
        + 0.24 * math.cos(2.0 * mh)
        + 0.32 * math.cos(3.0 * mh + math.radians(6.0))
        - 0.20 * math.cos(4.0 * mh - math.radians(63.0))
    )
    t = (math.degrees(mh) - 275.0) / 25.0
    theta = math.radians(30.0) * math.exp(-t * t)  # (16)
    power = to_the_7th(mC)
    RC = 2.0 * math.sqrt(power / (power + _25_TO_7))  # (17)
    SL = 1.0 + 0.015 * (mL - 50.0) ** 2 / math.sqrt(20.0 + (mL - 50.0) ** 2)  # (18)
    SC = 1.0 + 0.045 * mC  # (19)
    SH = 1.0 + 0.015 * mC * T  # (20)
    RT = -math.sin(2.0 * theta) * RC  # (21)
    eL, eC, eH = (L2 - L1) / SL, (C2 - C1) / SC, dH / SH  # (8), (9)
    return Terms(root, G, p1, p2, C1, C2, dh, mL, mC, mh, T, theta, RC, SL, SC, SH, RT, eL, eC, eH)


@jit
def squared(t):
    """The square of the difference with `Terms` `t`."""
    return max(t.eL * t.eL + t.eC * t.eC + t.eH * t.eH + t.RT * t.eC * t.eH, 0.0)  # (22)


@jit
def delta_e(L1, a1, b1, L2, a2, b2):
    """CIEDE2000 of two CIELAB colours."""
    return math.sqrt(squared(terms(L1, a1, b1, L2, a2, b2)))


@jit
def _hue_weights(t):
    """The slopes of T in the mean hue (15) and of theta in the mean hue (16)."""
    T_h = (
        0.17 * math.sin(t.mh - math.radians(30.0))
        - 0.48 * math.sin(2.0 * t.mh)
        - 0.96 * math.sin(3.0 * t.mh + math.radians(6.0))
        + 0.80 * math.sin(4.0 * t.mh - math.radians(63.0))
    )
    turned = (math.degrees(t.mh) - 275.0) / 25.0
    return T_h, t.theta * (-2.0 * turned / 25.0) * math.degrees(1.0)


@jit
def _seventh_slope(C, root):
    """The slope of sqrt(C^7 / (C^7 + 25^7)), which is `root`, in C: see (4) and (17)."""
    if not C > 1e-9:
        return 0.0
    power = to_the_7th(C)
    return 3.5 * power / C * _25_TO_7 / ((power + _25_TO_7) ** 2 * root)


@jit
def _slopes(t, a1, b1, a2, b2, a2_x, b2_x):
    """The derivatives of eC, eH and RT of `Terms` `t` where a2 and b2 grow by `a2_x` and `b2_x`.

    One of these is 1 and the other 0. Each derivative bears its term's name and _x.
    """
    C2 = math.sqrt(a2 * a2 + b2 * b2)
    mean = 0.5 * (math.sqrt(a1 * a1 + b1 * b1) + C2)
    C2_x = (a2 * a2_x + b2 * b2_x) / C2 if C2 > 1e-9 else 1.0
    G_x = -0.25 * _seventh_slope(mean, t.root) * C2_x
    p1_x = a1 * G_x
    p2_x = a2 * G_x + (1.0 + t.G) * a2_x
    D1_x = t.p1 * p1_x / t.C1 if t.C1 > 1e-9 else 0.0
    D2_x = (t.p2 * p2_x + b2 * b2_x) / t.C2 if t.C2 > 1e-9 else 1.0
    h1_x = -b1 * p1_x / (t.C1 * t.C1) if t.C1 > NO_HUE else 0.0
    h2_x = (t.p2 * b2_x - b2 * p2_x) / (t.C2 * t.C2) if t.C2 > NO_HUE else 0.0
    gm = math.sqrt(t.C1 * t.C2)
    mh_x = h2_x
    dH_x = 0.0
    if gm >= NO_HUE:
        mh_x = 0.5 * (h1_x + h2_x)
        dH_x = math.sin(0.5 * t.dh) * (D1_x * t.C2 + t.C1 * D2_x) / gm
        dH_x += gm * math.cos(0.5 * t.dh) * (h2_x - h1_x)
    mC_x = 0.5 * (D1_x + D2_x)
    T_h, theta_h = _hue_weights(t)
    RC_C = 2.0 * _seventh_slope(t.mC, 0.5 * t.RC)
    eC_x = (D2_x - D1_x - t.eC * 0.045 * mC_x) / t.SC
    eH_x = (dH_x - t.eH * 0.015 * (mC_x * t.T + t.mC * T_h * mh_x)) / t.SH
    RT_x = -2.0 * math.cos(2.0 * t.theta) * theta_h * mh_x * t.RC
    RT_x -= math.sin(2.0 * t.theta) * RC_C * mC_x
    return eC_x, eH_x, RT_x


@jit
def delta_e_slopes(L1, a1, b1, L2, a2, b2, grad, metric):
    """CIEDE2000 squared, with the slope of its half in the second colour.

    `grad` (3,) receives d(dE^2/2)/d(L2, a2, b2), exact; `metric` (3, 3) the Gauss-Newton matrix
    made of the first derivatives of the three weighted differences.
    """
    t = terms(L1, a1, b1, L2, a2, b2)
    far = t.mL - 50.0
    root = math.sqrt(20.0 + far * far)
    SL_L = 0.0075 * far * (2.0 / root - far * far / (root * root * root))
    eL_L = 1.0 / t.SL - t.eL / t.SL * SL_L
    eC_a, eH_a, RT_a = _slopes(t, a1, b1, a2, b2, 1.0, 0.0)
    eC_b, eH_b, RT_b = _slopes(t, a1, b1, a2, b2, 0.0, 1.0)
    both = t.eC * t.eH
    grad[0] = t.eL * eL_L
    grad[1] = t.eC * eC_a + t.eH * eH_a + 0.5 * (RT_a * both + t.RT * (eC_a * t.eH + t.eC * eH_a))
    grad[2] = t.eC * eC_b + t.eH * eH_b + 0.5 * (RT_b * both + t.RT * (eC_b * t.eH + t.eC * eH_b))
    metric[0, 0] = eL_L * eL_L
    metric[0, 1] = metric[0, 2] = metric[1, 0] = metric[2, 0] = 0.0
    metric[1, 1] = eC_a * eC_a + eH_a * eH_a + t.RT * eC_a * eH_a
    metric[2, 2] = eC_b * eC_b + eH_b * eH_b + t.RT * eC_b * eH_b
    metric[1, 2] = eC_a * eC_b + eH_a * eH_b + 0.5 * t.RT * (eC_a * eH_b + eH_a * eC_b)
    metric[2, 1] = metric[1, 2]
    return squared(t)
