"""How large a ball may be before CIEDE2000 hides colours from it."""

# Kernels take plain float64 arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.search.jit import jit
from tubewise.search.kernels.ciede2000 import delta_e

# A jump or dip of CIEDE2000 below this is let pass.
SEEN_JUMP = 1e-3


@jit
def _first_dip(target, directions, reach_to, step):
    """The least CIEDE2000 met, on rays of constant lightness, after a greater one.

    `directions` (m, 2) in a*, b*; rays go as far as `reach_to` in steps of `step`.
    """
    L, a, b = target[0], target[1], target[2]
    least = np.inf
    for m in range(directions.shape[0]):
        most = 0.0
        s = step
        while s <= reach_to:
            e = delta_e(L, a, b, L, a + s * directions[m, 0], b + s * directions[m, 1])
            if e < most - SEEN_JUMP:
                least = min(least, e)
            most = max(most, e)
            s += step
    return least


def _least_jump(L: float, a: float, b: float) -> float:
    """The least CIEDE2000 beside its jump where hues lie opposite; infinite for greys."""
    chroma = math.hypot(a, b)
    least = math.inf
    if chroma < 1e-6:
        return least
    # Opposite hues, of all chromas, a hair to either side.
    turn = math.atan2(-b, -a) + np.array([[-1e-5], [1e-5]])
    other = np.geomspace(0.01, 150.0, 240)
    lab = np.stack([np.full((2, 240), L), other * np.cos(turn), other * np.sin(turn)], axis=-1)
    sides = delta_e_2000([L, a, b], lab)
    jumps = np.abs(sides[0] - sides[1]) > SEEN_JUMP
    return float(sides[:, jumps].min(initial=least))


def safe_radius(target: Floats) -> float:
    """The largest radius at which rays find the whole ball around `target` (illuminants, 3).

    CIEDE2000 need not grow all along a ray. Where two hues lie opposite it jumps, because the
    rotation term changes sign there; and across grey, where hue turns within a unit or two, it may
    dip again, for blues and purples above all. Colours behind such a place may be nearer than rays
    show. The lightness term only grows, so rays of constant lightness show the least of them.
    Infinite when there are none.
    """
    safe = math.inf
    around = np.linspace(0.0, 2.0 * math.pi, 121)[:-1]
    across = np.arange(-15.0, 15.01, 0.5)
    for L, a, b in target:
        chroma = math.hypot(a, b)
        # All around, and densely wherever a ray passes near grey.
        aims = [np.stack([np.cos(around), np.sin(around)], axis=1)]
        if chroma > 1e-6:
            towards = -np.array([a, b]) / chroma
            aside = np.array([-towards[1], towards[0]])
            lines = towards * max(chroma, 1.0) + aside * across[:, None]
            aims.append(lines / np.linalg.norm(lines, axis=1, keepdims=True))
        here = np.array([L, a, b], dtype=np.float64)
        dip = _first_dip(here, np.concatenate(aims), chroma + 60.0, 0.5)
        safe = min(safe, dip, _least_jump(L, a, b))
    return safe
