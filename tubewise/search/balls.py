"""Several balls around one target, for sets of paints whose wishes cost differently."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from typing import NamedTuple

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.lab import relative_from_lab
from tubewise.search.ball import DIRECTIONS, NORMALS, ball
from tubewise.search.jit import jit
from tubewise.search.prepared import Prepared


class Balls(NamedTuple):
    """Balls of falling `radii` (m,) around a target, and their supporting planes.

    `A` (illuminants, 3, 3), `centre` (illuminants, 3): whitening, t = A (x - centre); `inverse`: of
    A. `normals` (3, DIRECTIONS); `support` (m, illuminants, DIRECTIONS): how far a ball reaches
    along them; `surface` (m, illuminants, points, 3).
    """

    A: Floats
    inverse: Floats
    centre: Floats
    normals: Floats
    radii: Floats
    support: Floats
    surface: Floats


@jit
def smallest_ball(need, radii):
    """The smallest of the balls (falling `radii`) that holds radius `need`."""
    at = 0
    for i in range(radii.size):
        if radii[i] >= need:
            at = i
    return at


def balls_of(problem: Prepared, radii: list[float]) -> Balls:
    """Balls of falling `radii` around a problem's target; for a spectrum only these are used."""
    aim = problem.aim
    normals = np.ascontiguousarray(NORMALS.T)
    if not np.isnan(aim.goal[0]):
        shape = (len(radii), len(aim.W))
        A = np.repeat(np.eye(3)[None], len(aim.W), axis=0)
        return Balls(
            A=A,
            inverse=A,
            centre=relative_from_lab(aim.lab),
            normals=normals,
            radii=np.array(radii),
            support=np.zeros((*shape, DIRECTIONS)),
            surface=np.zeros((*shape, 1, 3)),
        )
    made = [ball(aim.lab, radius, problem.film.base) for radius in radii]
    return Balls(
        A=made[0].A,
        inverse=np.ascontiguousarray(np.linalg.inv(made[0].A)),
        centre=made[0].centre,
        normals=normals,
        radii=np.array(radii),
        support=np.stack([each.support for each in made]),
        surface=np.stack([each.surface for each in made]),
    )
