"""The tables that the screen works with: paints and planes in single precision."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.search.ball import DIRECTIONS, MARGIN, NORMALS, even_directions, reaches
from tubewise.search.balls import Balls
from tubewise.search.kernels.layout import BANDS
from tubewise.search.prepared import Prepared
from tubewise.search.screen.planes import SLACK, Tables
from tubewise.search.screen.vertices import (
    DEEPEST,
    FIELDS,
    K_,
    ROWS_A_LEVEL,
    S_,
    WIDE,
    Sight,
    Vertices,
    place_first,
)

# Planes tried first, a vector of them for each illuminant; sets drawn to see which are of use.
KEPT, DRAWN = 8, 2000
FINER = even_directions(1024)
NEIGHBOURS = 32
# No paint is taken to scatter less than this part of its strength: it keeps divisions in bounds and
# matters only where a paint neither absorbs nor scatters at all.
LEAST_S = 1e-10
# Rows of FINER around each plane of the table.
AROUND = np.argsort(-(NORMALS @ FINER.T), axis=1)[:, :NEIGHBOURS]


@dataclass(frozen=True, slots=True, eq=False)
class Screen:
    """What `tree.screen_sets` takes. The vertices must be copied for each thread."""

    vertices: Vertices
    tables: Tables


def useful_planes(along: Floats, size: int, most: int) -> NDArray[np.int64]:
    """Columns of `along` (n, planes) of use: planes that keep random sets farthest off.

    `along`: how far beyond each plane each paint lies; `most`: of so many planes.
    """
    rng = np.random.default_rng(0)
    sets = rng.integers(0, len(along), (DRAWN, size))
    picked = along[sets].min(axis=1).argmax(axis=1)
    uses = np.bincount(picked, minlength=along.shape[1])
    order = np.argsort(-uses, kind="stable")[:most]
    return np.sort(order[uses[order] > 0])


def sight_of(problem: Prepared, balls: Balls, planes: NDArray[np.int64], kept: int) -> Sight:
    """How mixtures are seen, with the table's `planes` in this order, the first `kept` of use."""
    illuminants = len(problem.aim.W)
    whiten = np.zeros((illuminants, 4, WIDE), np.float32)
    whiten[:, :3, :BANDS] = balls.A @ problem.aim.W
    whiten[:, 3, :3] = np.einsum("lij,lj->li", balls.A, balls.centre)
    illuminant = planes // DIRECTIONS
    film = problem.film
    return Sight(
        surface=np.array([1.0 - film.k2, film.gain, film.base], np.float32),
        whiten=whiten,
        normals=np.ascontiguousarray(NORMALS[planes % DIRECTIONS].T, dtype=np.float32),
        illuminant=illuminant,
        starts=np.searchsorted(illuminant[:kept], np.arange(illuminants + 1)),
    )


def vertices_for(problem: Prepared, sight: Sight) -> Vertices:
    """The paints of a problem, with room for the vertices of one set's regions."""
    n = len(problem.paints.K)
    rows = n + ROWS_A_LEVEL * (DEEPEST + 1)
    X = np.ones((rows, FIELDS, WIDE), np.float32)
    K = problem.paints.K * problem.paints.unit[:, None]
    S = np.maximum(problem.paints.S * problem.paints.unit[:, None], LEAST_S)
    unit = (K + S).mean(axis=1, keepdims=True)
    for field, values in ((K_, K / unit), (S_, S / unit)):
        X[:n, field, :BANDS] = values
        X[:n, field, BANDS:] = values.mean(axis=1, keepdims=True)
    mean = np.ones(rows, np.float32)
    mean[:n] = X[:n, S_].mean(axis=1)
    vertices = Vertices(
        X=X,
        mean=mean,
        t=np.zeros((rows, len(problem.aim.W), 3), np.float32),
        along=np.zeros((rows, int(sight.starts[-1])), np.float32),
        origin=np.zeros((rows, 4), np.float32),
    )
    place_first(n, vertices, sight)
    return vertices


def screen_for(problem: Prepared, balls: Balls, size: int) -> Screen:
    """Tables for sets of `size` opaque paints and these balls."""
    illuminants, count = len(problem.aim.W), len(balls.radii)
    every = np.arange(illuminants * DIRECTIONS)
    whole = vertices_for(problem, sight_of(problem, balls, every, len(every)))
    beyond = whole.along[: len(problem.paints.K)] - balls.support[0].reshape(-1)
    kept = useful_planes(beyond, size, KEPT * illuminants)
    order = np.concatenate([kept, np.setdiff1d(every, kept)])
    illuminant, direction = order // DIRECTIONS, order % DIRECTIONS
    weights = np.zeros((len(order), WIDE), np.float32)
    by_band = balls.A @ problem.aim.W
    weights[:, :BANDS] = np.einsum("pi,piw->pw", NORMALS[direction], by_band[illuminant])
    zero = np.einsum("lij,lj->li", balls.A, balls.centre)
    around = AROUND[direction]
    far = np.array([[reaches(surface, FINER) for surface in each] for each in balls.surface])
    far += MARGIN * balls.radii[:, None, None]
    near_reach = np.take_along_axis(far[:, illuminant], around[None], axis=2)
    sight = sight_of(problem, balls, order, len(kept))
    tables = Tables(
        sight=sight,
        radii=balls.radii,
        reach=np.ascontiguousarray(balls.support.reshape(count, -1)[:, order], dtype=np.float32),
        weights=weights,
        zeros=np.einsum("pi,pi->p", NORMALS[direction], zero[illuminant]).astype(np.float32),
        slack=SLACK * np.abs(weights).sum(axis=1),
        near_normals=np.ascontiguousarray(FINER[around].transpose(0, 2, 1), dtype=np.float32),
        near_reach=np.ascontiguousarray(near_reach, dtype=np.float32),
    )
    return Screen(vertices=vertices_for(problem, sight), tables=tables)
