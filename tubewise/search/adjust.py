"""Which way each correction moves the colour of a recipe."""

# Kernels take named tuples of arrays; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.search.jit import jit_allocating
from tubewise.search.kernels.cielab import lab_of, lab_slopes, ratios
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.objective import blend
from tubewise.search.kernels.reflectance import reflectance_slopes
from tubewise.search.prepared import Prepared, prepare
from tubewise.search.problem import Proportions, SearchProblem


@dataclass(frozen=True, slots=True, eq=False)
class Correction:
    """What a little more of one paint does: `move` (3,), CIELAB per 1 % more of the whole mixture.

    `lightness`, `chroma` and `hue` are the same move as dL*, dC* and dH* (CIE 1976, signed) from
    the recipe's own colour.
    """

    index: int
    move: Floats
    lightness: float
    chroma: float
    hue: float


# A number the compiler takes for any other, so that it makes no kernel for this one alone.
FIRST = np.int64(0)


@jit_allocating
def mixture_slopes(K, S, shares, film, W, lab, J):
    """CIELAB (3,) of a mixture under the first illuminant, and its slopes `J` (3, k) in the shares.

    `K`, `S` (k, 36) of its paints, `shares` (k,).
    """
    work = np.empty((5, BANDS))
    blend(K, S, shares, work[0], work[1])
    reflectance_slopes(work[0], work[1], film, work[2], work[3], work[4])
    x, y, z = ratios(work[2], W, FIRST)
    lab[0], lab[1], lab[2] = lab_of(x, y, z)
    lab_slopes(x, y, z, K, S, work[3], work[4], W, FIRST, J)


def _polar(before: Floats, move: Floats) -> tuple[float, float, float]:
    chroma = float(np.hypot(before[1], before[2]))
    if chroma < 1e-9:
        return float(move[0]), float(np.hypot(move[1], move[2])), 0.0
    along = (before[1] * move[1] + before[2] * move[2]) / chroma
    across = (before[1] * move[2] - before[2] * move[1]) / chroma
    return float(move[0]), float(along), float(across)


def _local(problem: Prepared, found: Proportions) -> tuple[list[int], Floats]:
    place = {int(row): i for i, row in enumerate(problem.rows)}
    return [place[i] for i in found.indices], np.asarray(found.shares, dtype=np.float64)


def moves_of(problem: Prepared, rows: list[int], shares: Floats) -> tuple[Floats, Floats]:
    """CIELAB (3,) of a recipe under the first illuminant, and its slopes (3, k) in the paints.

    `rows`, `shares` (k,) of the problem's paints.
    """
    lab = np.empty(3)
    J = np.empty((3, len(rows)))
    K, S = problem.paints.K[rows], problem.paints.S[rows]
    mixture_slopes(K, S, shares, problem.film, problem.aim.W, lab, J)
    # Adding to one paint dilutes the others, which matters for films.
    return lab, J - (J @ shares)[:, None]


def corrections(ask: SearchProblem, found: Proportions) -> tuple[Correction, ...]:
    """The move of the colour, under the first light, for 1 % more of each paint of a recipe."""
    problem = prepare(ask)
    lab, J = moves_of(problem, *_local(problem, found))
    return tuple(
        Correction(index, 0.01 * J[:, i], *_polar(lab, 0.01 * J[:, i]))
        for i, index in enumerate(found.indices)
    )
