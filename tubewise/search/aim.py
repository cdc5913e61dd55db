"""All colours within a stated difference of a target, as a convex shape seen from its middle.

The ball of `tubewise.search.ball`, with its reach along every direction; near grey, where rays miss
part of it, the colours are scanned instead.
"""

# Kernels take plain float64 arrays throughout; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from itertools import product
from typing import NamedTuple

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import relative_from_lab
from tubewise.search.ball import MARGIN, ball, pulled_up, reaches
from tubewise.search.jit import jit
from tubewise.search.safe_radius import safe_radius

# Cells along an edge of the cube on whose faces the ball's reach is kept.
GRID = 16
# Steps to the radius where the ball is scanned rather than found by rays.
SCAN = 10
# CIEDE2000 grows at most so many times as fast as the distance in CIELAB.
STEEPEST = 1.5


class Aim(NamedTuple):
    """A target (3,) in CIELAB and the ball of colours within `radius` CIEDE2000 of it.

    A reflectance R lies at t = `bands` (3, 36) @ R - `centre` (3,), a space in which the ball is
    nearly a sphere around 0. `reach` (6, GRID + 1, GRID + 1): how far the ball reaches along the
    directions to a grid on the six faces of a cube, times their length; see `reach_along`.
    """

    target: Floats
    radius: float
    bands: Floats
    centre: Floats
    reach: Floats


def _cube() -> Floats:
    """Points (6, GRID + 1, GRID + 1, 3) on the faces of a cube: +x, -x, +y, -y, +z, -z."""
    side = np.linspace(-1.0, 1.0, GRID + 1)
    p, q = np.meshgrid(side, side, indexing="ij")
    ones = np.ones_like(p)
    faces = [(ones, p, q), (-ones, p, q), (p, ones, q), (p, -ones, q), (p, q, ones), (p, q, -ones)]
    return np.stack([np.stack(face, axis=-1) for face in faces])


CUBE = _cube()


@jit
def reach_along(x, y, z, reach):
    """How far the ball reaches along (x, y, z), times that vector's length; never too little.

    Such a support function is convex, and of degree 1: between four points of a cube's face it
    lies below what is interpolated from them.
    """
    ax, ay, az = abs(x), abs(y), abs(z)
    if ax >= ay and ax >= az:
        face, size, p, q = (0 if x > 0.0 else 1), ax, y, z
    elif ay >= az:
        face, size, p, q = (2 if y > 0.0 else 3), ay, x, z
    else:
        face, size, p, q = (4 if z > 0.0 else 5), az, x, y
    u = (p / size + 1.0) * (0.5 * GRID)
    v = (q / size + 1.0) * (0.5 * GRID)
    i = min(max(int(u), 0), GRID - 1)
    j = min(max(int(v), 0), GRID - 1)
    u -= i
    v -= j
    near = (1.0 - v) * reach[face, i, j] + v * reach[face, i, j + 1]
    far = (1.0 - v) * reach[face, i + 1, j] + v * reach[face, i + 1, j + 1]
    return size * ((1.0 - u) * near + u * far)


def aim_at(target: Floats, radius: float, W: Floats, floor: float) -> tuple[Aim, bool]:
    """The aim of one target (3,), and whether it surely takes in every colour within `radius`.

    `W` (3, 36): weights over the white; `floor`: no reflectance lies below it.
    """
    lab = np.ascontiguousarray(target, dtype=np.float64).reshape(1, 3)
    here = ball(lab, radius, floor)
    A, centre = here.A[0], here.A[0] @ here.centre[0]
    directions = CUBE.reshape(-1, 3)
    length = np.linalg.norm(directions, axis=1)
    reach, safe = reaches(here.surface[0], directions / length[:, None]) + MARGIN * radius, True
    reach *= length
    if radius >= safe_radius(lab):
        points, safe = scanned(lab[0], radius)
        t = pulled_up(relative_from_lab(points), floor) @ A.T - centre
        reach = np.maximum(reach, (directions @ t.T).max(axis=1))
    bands = np.ascontiguousarray(A @ W)
    return Aim(lab[0], radius, bands, centre, reach.reshape(CUBE.shape[:3])), safe


def scanned(target: Floats, radius: float) -> tuple[Floats, bool]:
    """Corners (m, 3) of little cubes in CIELAB that hold every colour within `radius` of a target.

    For targets near grey, where rays miss part of them. Also whether they stay clear of the border
    of what was scanned.
    """
    step = radius / SCAN
    wide = 3.0 * radius + 3.0
    sides = [np.arange(-reach, reach + step, step) for reach in (2.5 * radius, wide, wide)]
    grid = np.stack(np.meshgrid(*sides, indexing="ij"), axis=-1)
    inside = delta_e_2000(target, target + grid) <= radius + STEEPEST * step * math.sqrt(0.75)
    core = (slice(1, -1),) * 3
    clear = bool(inside.sum() == inside[core].sum())
    deep = inside.copy()
    for axis in range(3):
        for way in (1, -1):
            deep &= np.roll(inside, way, axis)
    points = (target + grid)[inside & ~deep]
    corners = 0.5 * step * np.array(list(product((-1.0, 1.0), repeat=3)))
    return (points[:, None] + corners).reshape(-1, 3), clear
