"""Which way each correction moves the colour of a recipe."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tubewise.search.polish import lab_slopes
from tubewise.search.problem import Floats, Found, Prepared, SearchProblem, prepare


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


def _polar(before: Floats, move: Floats) -> tuple[float, float, float]:
    chroma = float(np.hypot(before[1], before[2]))
    if chroma < 1e-9:
        return float(move[0]), float(np.hypot(move[1], move[2])), 0.0
    along = (before[1] * move[1] + before[2] * move[2]) / chroma
    across = (before[1] * move[2] - before[2] * move[1]) / chroma
    return float(move[0]), float(along), float(across)


def _local(problem: Prepared, found: Found) -> tuple[list[int], Floats]:
    place = {int(row): i for i, row in enumerate(problem.rows)}
    return [place[i] for i in found.indices], np.asarray(found.shares, dtype=np.float64)


def corrections(ask: SearchProblem, found: Found) -> tuple[Correction, ...]:
    """The move of the colour, under the first light, for 1 % more of each paint of a recipe."""
    problem = prepare(ask)
    rows, shares = _local(problem, found)
    lab = np.empty(3)
    J = np.empty((3, len(rows)))
    lab_slopes(
        np.ascontiguousarray(problem.K[rows]),
        np.ascontiguousarray(problem.S[rows]),
        shares,
        problem.medium,
        problem.ground,
        problem.W,
        0,
        lab,
        J,
    )
    # Adding to one paint dilutes the others, which matters for films.
    J -= (J @ shares)[:, None]
    result = []
    for i, index in enumerate(found.indices):
        move = 0.01 * J[:, i]
        result.append(Correction(index, move, *_polar(lab, move)))
    return tuple(result)
