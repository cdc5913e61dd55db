"""The ball of colours nearer to the target than the best recipe, and its supporting planes.

A region of mixtures is ruled out when a plane in X, Y, Z has the region on one side and the whole
ball on the other. The space used is X/Xn, Y/Yn, Z/Zn moved to the target and whitened there, so
that small balls are nearly spheres. The ball's surface is found ray by ray on a grid of
directions in CIELAB; a plane's distance is the greatest over that grid, sharpened by parabolas
through its neighbours and widened by `MARGIN`.
"""

# Kernels take plain float64 arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from tubewise.search.jit import jit
from tubewise.search.kernels import delta_e, delta_e_slopes
from tubewise.search.problem import Floats

LATITUDES, LONGITUDES = 48, 96
DIRECTIONS = 64
COARSE_STEP = 6
# The grid's parabolas are good to a few parts in ten thousand of the radius: 2.3e-4 at worst where
# tests/advice/search checks them.
MARGIN = 3e-4
# A jump or dip of CIEDE2000 below this is let pass.
SEEN_JUMP = 1e-3


@dataclass(frozen=True, slots=True, eq=False)
class Ball:
    """`A` (lights, 3, 3) and `centre` (lights, 3): whitening, t = A (x - centre).

    `surface` (lights, LATITUDES*LONGITUDES, 3) the ball's surface; `planes` (DIRECTIONS, 3) unit
    normals, `support` (lights, DIRECTIONS) how far the ball reaches along them.
    """

    radius: float
    A: Floats
    centre: Floats
    surface: Floats
    planes: Floats
    support: Floats


def even_directions(count: int) -> Floats:
    """Unit vectors (count, 3), evenly spread (a spiral of golden angles)."""
    i = np.arange(count) + 0.5
    z = 1.0 - 2.0 * i / count
    turn = math.pi * (1.0 + math.sqrt(5.0)) * i
    r = np.sqrt(1.0 - z * z)
    return np.stack([r * np.cos(turn), r * np.sin(turn), z], axis=1)


PLANES = even_directions(DIRECTIONS)


@jit
def _rays(target, stretch, radius, out):
    """The farthest CIELAB (LATITUDES*LONGITUDES, 3) on each ray whose CIEDE2000 is `radius`."""
    steps = 1 if radius < 1.0 else 14
    for i in range(LATITUDES):
        polar = math.pi * (i + 0.5) / LATITUDES
        for j in range(LONGITUDES):
            turn = 2.0 * math.pi * j / LONGITUDES
            u0 = math.cos(polar)
            u1 = math.sin(polar) * math.cos(turn)
            u2 = math.sin(polar) * math.sin(turn)
            d0 = stretch[0, 0] * u0 + stretch[0, 1] * u1 + stretch[0, 2] * u2
            d1 = stretch[1, 0] * u0 + stretch[1, 1] * u1 + stretch[1, 2] * u2
            d2 = stretch[2, 0] * u0 + stretch[2, 1] * u1 + stretch[2, 2] * u2
            # CIEDE2000 need not grow along a ray everywhere (hue turns over near grey), so the
            # last step from inside to outside counts.
            inside = 0.0
            outside = radius * 0.5
            last_in = 0.0
            first_out = -1.0
            s = radius * 0.5
            for _ in range(60):
                e = delta_e(
                    target[0],
                    target[1],
                    target[2],
                    target[0] + s * d0,
                    target[1] + s * d1,
                    target[2] + s * d2,
                )
                if e <= radius:
                    last_in = s
                    first_out = -1.0
                elif first_out < 0.0:
                    first_out = s
                if first_out > 0.0 and s > first_out * (1.0 + 0.12 * (steps - 1)):
                    break
                s *= 1.25
            inside, outside = last_in, (first_out if first_out > 0.0 else s)
            f_in, f_out = -1.0, 1.0
            f_in = (
                delta_e(
                    target[0],
                    target[1],
                    target[2],
                    target[0] + inside * d0,
                    target[1] + inside * d1,
                    target[2] + inside * d2,
                )
                - radius
            )
            f_out = (
                delta_e(
                    target[0],
                    target[1],
                    target[2],
                    target[0] + outside * d0,
                    target[1] + outside * d1,
                    target[2] + outside * d2,
                )
                - radius
            )
            for _ in range(30):
                if f_out - f_in <= 0.0 or outside - inside < 1e-9 * outside:
                    break
                m = inside + (outside - inside) * min(max(-f_in / (f_out - f_in), 0.02), 0.98)
                f = (
                    delta_e(
                        target[0],
                        target[1],
                        target[2],
                        target[0] + m * d0,
                        target[1] + m * d1,
                        target[2] + m * d2,
                    )
                    - radius
                )
                if abs(f) < 1e-7 * radius:
                    outside = m
                    break
                if f <= 0.0:
                    inside, f_in = m, f
                else:
                    outside, f_out = m, f
            r = i * LONGITUDES + j
            out[r, 0] = target[0] + outside * d0
            out[r, 1] = target[1] + outside * d1
            out[r, 2] = target[2] + outside * d2


@jit
def reach(surface, u0, u1, u2):
    """How far the surface (LATITUDES*LONGITUDES, 3) reaches along (u0, u1, u2).

    Returns the farthest point of the grid, and what the parabolas through its neighbours add.
    """
    best = -np.inf
    i, j = 0, 0
    # A coarse look, then a window around its best: the ball has one hump along any direction.
    for a in range(COARSE_STEP // 2, LATITUDES, COARSE_STEP):
        for b in range(0, LONGITUDES, COARSE_STEP):
            r = a * LONGITUDES + b
            v = u0 * surface[r, 0] + u1 * surface[r, 1] + u2 * surface[r, 2]
            if v > best:
                best = v
                i, j = a, b
    for step in (3, 1):
        moved = True
        while moved:
            moved = False
            ci, cj = i, j
            for di in (-step, 0, step):
                a = ci + di
                if a < 0 or a >= LATITUDES:
                    continue
                for dj in (-step, 0, step):
                    b = (cj + dj + LONGITUDES) % LONGITUDES
                    r = a * LONGITUDES + b
                    v = u0 * surface[r, 0] + u1 * surface[r, 1] + u2 * surface[r, 2]
                    if v > best:
                        best = v
                        i, j = a, b
                        moved = True
    at = i * LONGITUDES + j
    more = 0.0
    for axis in range(2):
        if axis == 0:
            if i == 0 or i == LATITUDES - 1:
                continue
            a, b = at - LONGITUDES, at + LONGITUDES
        else:
            a = i * LONGITUDES + (j + 1) % LONGITUDES
            b = i * LONGITUDES + (j + LONGITUDES - 1) % LONGITUDES
        fa = u0 * surface[a, 0] + u1 * surface[a, 1] + u2 * surface[a, 2]
        fb = u0 * surface[b, 0] + u1 * surface[b, 1] + u2 * surface[b, 2]
        bend = 2.0 * best - fa - fb
        if bend > 0.0:
            more += (fa - fb) * (fa - fb) / (8.0 * bend)
    return best, more


@jit
def _reaches(surface, directions, out):
    for m in range(directions.shape[0]):
        best, more = reach(surface, directions[m, 0], directions[m, 1], directions[m, 2])
        out[m] = best + more


def reaches(surface: Floats, directions: Floats) -> Floats:
    """How far a ball's surface (LATITUDES*LONGITUDES, 3) reaches along each direction (m, 3).

    Without `MARGIN`.
    """
    out = np.empty(len(directions))
    _reaches(surface, directions, out)
    return out


def _whitening(target: Floats) -> tuple[Floats, Floats, Floats]:
    """Whitening of CIELAB at the target (3, 3), its inverse, and d CIELAB / d ratios (3, 3)."""
    metric = np.zeros((3, 3))
    grad, one = np.empty(3), np.empty((3, 3))
    for step in ((2.0, 1, 1), (2.0, -1, 1), (2.0, 1, -1), (-2.0, -1, -1)):
        delta_e_slopes(*target, *(target + np.array(step)), grad, one)
        metric += one / 4.0
    metric = 0.5 * (metric + metric.T) + 0.01 * np.eye(3)
    value, axes = np.linalg.eigh(metric)
    value = np.maximum(value, 0.01)
    white = (axes * np.sqrt(value)) @ axes.T
    back = (axes / np.sqrt(value)) @ axes.T
    fy = (target[0] + 16.0) / 116.0
    f = np.array([fy + target[1] / 500.0, fy, fy - target[2] / 200.0])
    slope = np.where(f > 6.0 / 29.0, 1.0 / (3.0 * np.maximum(f, 1e-3) ** 2), 24389.0 / 27.0 / 116.0)
    lab_by_f = np.array([[0.0, 116.0, 0.0], [500.0, -500.0, 0.0], [0.0, 200.0, -200.0]])
    return white, back, lab_by_f * slope


def ratios_of_lab(lab: Floats) -> Floats:
    """X/Xn, Y/Yn, Z/Zn (..., 3) of CIELAB (..., 3)."""
    fy = (lab[..., 0] + 16.0) / 116.0
    f = np.stack([fy + lab[..., 1] / 500.0, fy, fy - lab[..., 2] / 200.0], axis=-1)
    return np.where(f > 6.0 / 29.0, f**3, (116.0 * f - 16.0) * 27.0 / 24389.0)


@jit
def _first_dip(target, directions, reach_to, step):
    """The least CIEDE2000 met, on rays of constant lightness, after a greater one.

    `directions` (m, 2) in a*, b*; rays go as far as `reach_to` in steps of `step`.
    """
    least = np.inf
    for m in range(directions.shape[0]):
        most = 0.0
        s = step
        while s <= reach_to:
            e = delta_e(
                target[0],
                target[1],
                target[2],
                target[0],
                target[1] + s * directions[m, 0],
                target[2] + s * directions[m, 1],
            )
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
    for other in np.geomspace(0.01, 150.0, 240):
        sides = []
        for turn in (-1e-5, 1e-5):
            x = -a / chroma * math.cos(turn) + b / chroma * math.sin(turn)
            y = -a / chroma * math.sin(turn) - b / chroma * math.cos(turn)
            sides.append(delta_e(L, a, b, L, other * x, other * y))
        if abs(sides[0] - sides[1]) > SEEN_JUMP:
            least = min(least, *sides)
    return least


def safe_radius(target: Floats) -> float:
    """The largest radius at which rays find the whole ball around `target` (lights, 3).

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


def pulled_up(x: Floats, floor: float) -> Floats:
    """Ratios with everything below `floor` drawn smoothly up to just under it.

    No paint reflects less than the surface does, so the part of a ball below that may be anything;
    for dark targets it would otherwise reach far into negative light.
    """
    depth = 0.5 * floor + 0.002
    return np.where(x >= floor, x, floor - depth * -np.expm1(np.minimum(x - floor, 0.0) / depth))


def ball(target: Floats, radius: float, floor: float = 0.0) -> Ball:
    """The ball of CIEDE2000 `radius` > 0 around `target` (lights, 3) in CIELAB.

    `floor` 0..1: no reflectance of interest lies below it (the surface's, if gloss is included).
    """
    lights = len(target)
    A = np.empty((lights, 3, 3))
    centre = ratios_of_lab(target)
    surface = np.empty((lights, LATITUDES * LONGITUDES, 3))
    for light in range(lights):
        white, back, slope = _whitening(target[light])
        A[light] = white @ slope
        lab = np.empty((LATITUDES * LONGITUDES, 3))
        _rays(target[light], np.ascontiguousarray(back), radius, lab)
        surface[light] = (pulled_up(ratios_of_lab(lab), floor) - centre[light]) @ A[light].T
    support = np.stack([reaches(one, PLANES) for one in surface])
    return Ball(radius, A, centre, surface, PLANES, support + MARGIN * radius)
