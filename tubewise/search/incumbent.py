"""The least cost known so far, and the balls of what would be better."""

from __future__ import annotations

from dataclasses import dataclass
from threading import Lock

import numpy as np

from tubewise.search.balls import Balls, balls_of
from tubewise.search.beam import feasible_sizes
from tubewise.search.prepared import Prepared
from tubewise.search.safe_radius import safe_radius

# No ball is made larger than this part of the radius at which it meets a jump of CIEDE2000.
SAFETY = 0.98
# Sets whose wishes cost more are given smaller balls: so many, each this part of the one before.
MOST_BALLS, SMALLER = 12, 0.8


@dataclass(frozen=True, slots=True)
class Size:
    """One number of paints to be swept.

    `extra` is what its number costs; `low`, `high` the least and most a set's wishes can cost.
    """

    size: int
    extra: float
    low: float
    high: float


def sizes(problem: Prepared) -> list[Size]:
    """The sizes that must be swept; without wishes the largest includes the smaller ones."""
    ask = problem.ask
    allowed = list(feasible_sizes(problem))
    plain = (
        ask.min_share == 0.0
        and ask.max_parts is None
        and ask.per_paint == 0.0
        and not problem.penalty.any()
    )
    swept = allowed[-1:] if plain else allowed
    must = set(problem.must)
    free = np.sort(np.array([p for i, p in enumerate(problem.penalty) if i not in must]))
    base = float(problem.penalty[list(must)].sum()) if must else 0.0
    result = []
    for size in swept:
        extra = ask.per_paint * (size - 1)
        more = size - len(must)
        low = extra + base + float(free[:more].sum())
        high = extra + base + float(free[len(free) - more :].sum())
        result.append(Size(size, extra, low, high))
    return result


class Incumbent:
    """The least cost so far, shared by the threads, and balls that fit it."""

    def __init__(self, problem: Prepared, cost: float) -> None:
        self.problem = problem
        self.shared = np.array([cost])
        self.lock = Lock()
        spectral = not np.isnan(problem.aim.goal[0])
        self.safe = np.inf if spectral else SAFETY * safe_radius(problem.aim.lab)
        self.kept: dict[tuple[int, float], tuple[float, Balls]] = {}

    def balls_for(self, what: Size, tolerance: float) -> Balls | None:
        """Balls for recipes of this size better by `tolerance`; None when there can be none."""
        with self.lock:
            cost = float(self.shared[0])
            largest = cost - tolerance - what.low
            if largest <= 0.0:
                return None
            key = (what.size, tolerance)
            kept = self.kept.get(key)
            if kept and kept[0] - cost <= 0.25 * self.problem.ask.tolerance:
                return kept[1]
            radii = [min(largest, self.safe)]
            # Sets whose wishes cost more need smaller balls.
            while what.high > what.low and len(radii) < MOST_BALLS:
                radii.append(radii[-1] * SMALLER)
            made = balls_of(self.problem, radii)
            self.kept[key] = (cost, made)
            return made
