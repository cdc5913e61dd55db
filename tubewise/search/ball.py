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

from tubewise.colour.arrays import Floats
from tubewise.colour.lab import relative_from_lab
from tubewise.search.jit import jit
from tubewise.search.kernels.ciede2000 import delta_e, delta_e_slopes
from tubewise.search.kernels.cielab import compressed_slope

LATITUDES, LONGITUDES = 48, 96
DIRECTIONS = 64
COARSE_STEP = 6
# The grid's parabolas are good to a few parts in ten thousand of the radius: 2.3e-4 at worst where
# tests/search checks them.
MARGIN = 3e-4


@dataclass(frozen=True, slots=True, eq=False)
class Ball:
    """`A` (illuminants, 3, 3) and `centre` (illuminants, 3): whitening, t = A (x - centre).

    `surface` (illuminants, LATITUDES*LONGITUDES, 3) the ball's surface; `normals` (DIRECTIONS, 3)
    of its planes, `support` (illuminants, DIRECTIONS) how far the ball reaches along them.
    """

    radius: float
    A: Floats
    centre: Floats
    surface: Floats
    normals: Floats
    support: Floats


def even_directions(count: int) -> Floats:
    """Unit vectors (count, 3), evenly spread (a spiral of golden angles)."""
    i = np.arange(count) + 0.5
    z = 1.0 - 2.0 * i / count
    turn = math.pi * (1.0 + math.sqrt(5.0)) * i
    r = np.sqrt(1.0 - z * z)
    return np.stack([r * np.cos(turn), r * np.sin(turn), z], axis=1)


NORMALS = even_directions(DIRECTIONS)


@jit
def difference(target, d, s):
    """CIEDE2000 of a target (3,) and the colour at `s` along the direction `d` (3,) in CIELAB."""
    L, a, b = target[0], target[1], target[2]
    return delta_e(L, a, b, L + s * d[0], a + s * d[1], b + s * d[2])


@jit
def _last_crossing(target, d, radius):
    """Two places along a ray, inside and outside the ball, with its surface between them.

    CIEDE2000 need not grow along a ray everywhere (hue turns over near grey), so the last step from
    inside to outside counts.
    """
    # Small balls are nearly ellipsoids; around large ones the ray is followed further.
    enough = 1.0 if radius < 1.0 else 2.56
    inside = 0.0
    outside = -1.0
    s = radius * 0.5
    for _ in range(60):
        if difference(target, d, s) <= radius:
            inside = s
            outside = -1.0
        elif outside < 0.0:
            outside = s
        if outside > 0.0 and s > outside * enough:
            break
        s *= 1.25
    return inside, (outside if outside > 0.0 else s)


@jit
def _surface_along(target, d, radius):
    """How far along the direction `d` (3,) the ball's surface lies, a hair outside."""
    inside, outside = _last_crossing(target, d, radius)
    f_in = difference(target, d, inside) - radius
    f_out = difference(target, d, outside) - radius
    for _ in range(30):
        if f_out - f_in <= 0.0 or outside - inside < 1e-9 * outside:
            break
        m = inside + (outside - inside) * min(max(-f_in / (f_out - f_in), 0.02), 0.98)
        f = difference(target, d, m) - radius
        if abs(f) < 1e-7 * radius:
            return m
        if f <= 0.0:
            inside, f_in = m, f
        else:
            outside, f_out = m, f
    return outside


@jit
def _rays(target, stretch, radius, d, out):
    """The farthest CIELAB (LATITUDES*LONGITUDES, 3) on each ray whose CIEDE2000 is `radius`.

    `d` (3,) is overwritten.
    """
    for i in range(LATITUDES):
        polar = math.pi * (i + 0.5) / LATITUDES
        for j in range(LONGITUDES):
            turn = 2.0 * math.pi * j / LONGITUDES
            u0 = math.cos(polar)
            u1 = math.sin(polar) * math.cos(turn)
            u2 = math.sin(polar) * math.sin(turn)
            for c in range(3):
                d[c] = stretch[c, 0] * u0 + stretch[c, 1] * u1 + stretch[c, 2] * u2
            s = _surface_along(target, d, radius)
            for c in range(3):
                out[i * LONGITUDES + j, c] = target[c] + s * d[c]


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
    grad, each = np.empty(3), np.empty((3, 3))
    for step in ((2.0, 1, 1), (2.0, -1, 1), (2.0, 1, -1), (-2.0, -1, -1)):
        delta_e_slopes(*target, *(target + np.array(step)), grad, each)
        metric += each / 4.0
    metric = 0.5 * (metric + metric.T) + 0.01 * np.eye(3)
    value, axes = np.linalg.eigh(metric)
    value = np.maximum(value, 0.01)
    white = (axes * np.sqrt(value)) @ axes.T
    back = (axes / np.sqrt(value)) @ axes.T
    slope = np.array([compressed_slope(x) for x in relative_from_lab(target)])
    lab_by_f = np.array([[0.0, 116.0, 0.0], [500.0, -500.0, 0.0], [0.0, 200.0, -200.0]])
    return white, back, lab_by_f * slope


def pulled_up(x: Floats, floor: float) -> Floats:
    """Ratios with everything below `floor` drawn smoothly up to just under it.

    No paint reflects less than the surface does, so the part of a ball below that may be anything;
    for dark targets it would otherwise reach far into negative light.
    """
    depth = 0.5 * floor + 0.002
    return np.where(x >= floor, x, floor - depth * -np.expm1(np.minimum(x - floor, 0.0) / depth))


def ball(target: Floats, radius: float, floor: float = 0.0) -> Ball:
    """The ball of CIEDE2000 `radius` > 0 around `target` (illuminants, 3) in CIELAB.

    `floor` 0..1: no reflectance of interest lies below it (the surface's, if gloss is included).
    """
    illuminants = len(target)
    A = np.empty((illuminants, 3, 3))
    centre = relative_from_lab(target)
    surface = np.empty((illuminants, LATITUDES * LONGITUDES, 3))
    for i in range(illuminants):
        white, back, slope = _whitening(target[i])
        A[i] = white @ slope
        lab = np.empty((LATITUDES * LONGITUDES, 3))
        _rays(target[i], np.ascontiguousarray(back), radius, np.empty(3), lab)
        surface[i] = (pulled_up(relative_from_lab(lab), floor) - centre[i]) @ A[i].T
    support = np.stack([reaches(each, NORMALS) for each in surface])
    return Ball(radius, A, centre, surface, NORMALS, support + MARGIN * radius)
