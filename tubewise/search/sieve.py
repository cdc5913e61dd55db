"""The tables that `sift` works with: paints and planes in single precision."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from tubewise.search.ball import DIRECTIONS, MARGIN, PLANES, even_directions, reaches
from tubewise.search.problem import Floats, Prepared
from tubewise.search.sift import (
    DEEPEST,
    FIELDS,
    K_,
    ROWS_A_LEVEL,
    S_,
    SLACK,
    WIDE,
    place,
)

Singles = NDArray[np.float32]

# Planes tried first, a vector of them for each light; sets drawn to see which are of use.
KEPT, DRAWN = 8, 2000
FINER = even_directions(1024)
NEIGHBOURS = 32
# No paint is taken to scatter less than this part of its strength: it keeps divisions in bounds and
# matters only where a paint neither absorbs nor scatters at all.
LEAST_S = 1e-10
# Rows of FINER around each plane of the table.
AROUND = np.argsort(-(PLANES @ FINER.T), axis=1)[:, :NEIGHBOURS]


@dataclass(frozen=True, slots=True, eq=False)
class Sieve:
    """What `sift.sift_sets` takes: see there. `pool` must be copied for each thread."""

    pool: tuple[Any, ...]
    radii: Floats
    reach: Singles
    weights: Singles
    zeros: Singles
    slack: Singles
    near_planes: Singles
    near_reach: Singles
    surface: Singles
    whiten: Singles

    def own_pool(self) -> tuple[Any, ...]:
        """The pool, own to one thread."""
        return tuple(array.copy() for array in self.pool)

    @property
    def tables(self) -> tuple[Any, ...]:
        """The arguments after the pool, in `sift.sift_sets`'s order."""
        return (
            self.radii,
            self.reach,
            self.weights,
            self.zeros,
            self.slack,
            self.near_planes,
            self.near_reach,
            self.surface,
            self.whiten,
        )


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


def sieve(
    problem: Prepared,
    A: Floats,
    centre: Floats,
    radii: Floats,
    support: Floats,
    surface: Floats,
    size: int,
) -> Sieve:
    """Tables for sets of `size` opaque paints and balls of falling `radii` (m,).

    `A` (lights, 3, 3), `centre` (lights, 3), `support` (m, lights, DIRECTIONS) and `surface`
    (m, lights, points, 3) as `ball.ball` gives them.
    """
    n, lights = len(problem.K), len(problem.W)
    by_band = A @ problem.W
    zero = np.einsum("lij,lj->li", A, centre)
    whiten = np.zeros((lights, 4, WIDE), np.float32)
    whiten[:, :3, :36], whiten[:, 3, :3] = by_band, zero
    k2, gain, base, _film = problem.medium
    medium = np.array([1.0 - k2, gain, base], np.float32)

    rows = n + ROWS_A_LEVEL * (DEEPEST + 1)
    X = np.ones((rows, FIELDS, WIDE), np.float32)
    K, S = problem.K * problem.unit[:, None], problem.S * problem.unit[:, None]
    S = np.maximum(S, LEAST_S)
    unit = (K + S).mean(axis=1, keepdims=True)
    for field, values in ((K_, K / unit), (S_, S / unit)):
        X[:n, field, :36] = values
        X[:n, field, 36:] = values.mean(axis=1, keepdims=True)
    T = np.zeros((rows, lights, 3), np.float32)
    mean = np.ones(rows, np.float32)
    mean[:n] = X[:n, S_].mean(axis=1)
    came_from = np.zeros((rows, 4), np.float32)

    every = np.arange(lights * DIRECTIONS)

    def paints(planes: NDArray[np.int64], kept: int) -> tuple[Any, ...]:
        """The pool with the table's `planes` in this order, the paints placed along some."""
        light_of = planes // DIRECTIONS
        pool = (
            X,
            mean,
            T,
            np.zeros((rows, kept), np.float32),
            came_from,
            np.ascontiguousarray(PLANES[planes % DIRECTIONS].T, dtype=np.float32),
            light_of,
            np.searchsorted(light_of[:kept], np.arange(lights + 1)),
        )
        place(n, *pool, medium, whiten)
        return pool

    along = paints(every, len(every))[3][:n].astype(np.float64)
    kept = useful_planes(along - support[0].reshape(-1), size, KEPT * lights)
    order = np.concatenate([kept, np.setdiff1d(every, kept)])
    light_of, direction = order // DIRECTIONS, order % DIRECTIONS
    weights = np.zeros((len(order), WIDE), np.float32)
    weights[:, :36] = np.einsum("pi,piw->pw", PLANES[direction], by_band[light_of])
    zeros = np.einsum("pi,pi->p", PLANES[direction], zero[light_of])
    around = AROUND[direction]
    far = np.array([[reaches(one, FINER) for one in lit] for lit in surface])
    far += MARGIN * radii[:, None, None]
    near_reach = np.take_along_axis(far[:, light_of], around[None], axis=2)
    return Sieve(
        pool=paints(order, len(kept)),
        radii=radii,
        reach=np.ascontiguousarray(support.reshape(len(radii), -1)[:, order], dtype=np.float32),
        weights=weights,
        zeros=zeros.astype(np.float32),
        slack=SLACK * np.abs(weights).sum(axis=1),
        near_planes=np.ascontiguousarray(FINER[around].transpose(0, 2, 1), dtype=np.float32),
        near_reach=np.ascontiguousarray(near_reach, dtype=np.float32),
        surface=medium,
        whiten=whiten,
    )
