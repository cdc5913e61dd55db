"""How sure a recipe is, and which way each correction moves the colour."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from tubewise.advice.search.kernels import delta_e
from tubewise.advice.search.listing import reflectance_of
from tubewise.advice.search.polish import lab_slopes
from tubewise.advice.search.problem import Floats, Found, Prepared, SearchProblem, labs_of, prepare


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


@dataclass(frozen=True, slots=True, eq=False)
class HowSure:
    """What errors in squeezing do, as CIEDE2000 from the recipe's own colour.

    `one_part` (k,): one part more of each paint, NaN without whole parts; `ten_per_cent` (k,): 10 %
    more of each; `ten_per_cent_all`: the expected distance when every part is off by an
    independent normal error of 10 % (to first order).
    """

    one_part: Floats
    ten_per_cent: Floats
    ten_per_cent_all: float


@dataclass(frozen=True, slots=True)
class Miss:
    """How the reached colour differs from the target: reached minus target, CIE 1976 signed."""

    lightness: float
    chroma: float
    hue: float
    delta_e00: float


@dataclass(frozen=True, slots=True)
class Premix:
    """A two-step recipe: first mix `tint` parts, then use `parts` of that tint with the rest.

    `tint`: (strong paint, its parts, weak paint, its parts). `parts`: parts of the tint, then of
    the other paints in the order of `indices`. `value`: the objective of the result.
    """

    tint: tuple[int, int, int, int]
    tint_parts: int
    indices: tuple[int, ...]
    parts: tuple[int, ...]
    value: float


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


def how_sure(ask: SearchProblem, found: Found) -> HowSure:
    """What one part more, and 10 % in each part, do to the colour under the first light."""
    problem = prepare(ask)
    rows, shares = _local(problem, found)
    own = found.lab[0]

    def distance(amounts: Floats) -> float:
        R = reflectance_of(problem, rows, amounts / amounts.sum())
        return float(delta_e(*own, *labs_of(R, problem.W)[0]))

    one_part = np.full(len(rows), np.nan)
    if found.parts is not None:
        parts = np.asarray(found.parts, dtype=np.float64)
        one_part = np.array([distance(parts + np.eye(len(rows))[i]) for i in range(len(rows))])
    ten = np.array(
        [distance(shares * (1.0 + 0.1 * np.eye(len(rows))[i])) for i in range(len(rows))]
    )
    return HowSure(one_part, ten, float(np.sqrt((ten**2).sum())))


def miss(found: Found, target_lab: ArrayLike) -> Miss:
    """In which way a recipe misses a target (3,), under the first light."""
    target = np.asarray(target_lab, dtype=np.float64).reshape(-1, 3)[0]
    lab = found.lab[0]
    light, _, _ = _polar(target, lab - target)
    c1, c2 = np.hypot(*target[1:]), np.hypot(*lab[1:])
    square = float(((lab[1:] - target[1:]) ** 2).sum() - (c2 - c1) ** 2)
    turn = float(target[1] * lab[2] - target[2] * lab[1])
    hue = float(np.copysign(np.sqrt(max(square, 0.0)), turn))
    return Miss(light, float(c2 - c1), hue, float(found.delta_e00[0]))
