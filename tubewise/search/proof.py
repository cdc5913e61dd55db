"""Drives the proof: sweeps all sets in threads, and states what is left open."""

from __future__ import annotations

import time
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tubewise.search.balls import Balls
from tubewise.search.branch.tree import examine_sets, room_for
from tubewise.search.branch.vertices import Vertices, vertices_for
from tubewise.search.incumbent import Incumbent, Size, sizes
from tubewise.search.kernels.layout import Indices
from tubewise.search.listing import NOTHING, Solution, price_of
from tubewise.search.prepared import Prepared
from tubewise.search.screen.tables import Screen, screen_for
from tubewise.search.screen.tree import room_for as screen_room_for
from tubewise.search.screen.tree import screen_sets
from tubewise.search.subsets import Sets, of_different_families, sets_from
from tubewise.search.sweep import Report, Rules, empty_report
from tubewise.search.threads import spread

# Regions visited in a set before it is put aside for the second look, and in the later looks.
BUDGETS = (400, 4000, 40000)
OPEN_KEPT = 20000
# Sets handed to a kernel at a time: between two the clock is looked at.
SCREENED_AT_ONCE, EXAMINED_AT_ONCE, AGAIN_AT_ONCE = 1024, 128, 64
# Parts of the cost tried as the gap for sets that stay open.
GAPS = (0.01, 0.03, 0.1, 0.25, 0.5)
# The bounds are written for regions of up to four vertices; larger sets are searched without proof.
LARGEST_PROVED = 4

Left = list[tuple[Size, Sets]]


@dataclass(frozen=True, slots=True, eq=False)
class Proof:
    """`lower_bound` on every cost; `found` better recipes met; regions and mixtures computed."""

    lower_bound: float
    found: list[Solution]
    evaluated: int


class Prover:
    """One proof: its incumbent, the vertices' arrays, and what the threads report."""

    def __init__(self, problem: Prepared, cost: float, floor_cost: float, deadline: float) -> None:
        self.problem = problem
        self.floor_cost = floor_cost
        self.deadline = deadline
        self.incumbent = Incumbent(problem, cost)
        self.must = np.array(problem.must, dtype=np.int64)
        required = set(problem.must)
        free = [i for i in range(len(problem.paints.K)) if i not in required]
        self.free = np.array(free, np.int64)
        self.found: list[Solution] = []
        self.evaluated = 0.0
        self._vertices: Vertices | None = None
        self._screen: tuple[Balls, int, Screen] | None = None
        # Opaque mixtures and differences of colour are screened; the rest goes to the tree.
        self.plain = bool(problem.film.thickness <= 0.0 and np.isnan(problem.aim.goal[0]))

    def late(self) -> bool:
        """Whether the time is up."""
        return time.perf_counter() > self.deadline

    def done(self) -> bool:
        """Whether the least cost is as low as any can be."""
        return bool(self.incumbent.shared[0] <= self.floor_cost + self.problem.ask.tolerance)

    def vertices(self, balls: Balls) -> Vertices:
        """A thread's own copy of the vertices in double precision."""
        with self.incumbent.lock:
            if self._vertices is None:
                self._vertices = vertices_for(self.problem, balls)
            return Vertices(*(array.copy() for array in self._vertices))

    def screen(self, what: Size, balls: Balls) -> Screen:
        """The screen for these balls, made once."""
        with self.incumbent.lock:
            if self._screen is None or self._screen[0] is not balls or self._screen[1] != what.size:
                self._screen = (balls, what.size, screen_for(self.problem, balls, what.size))
            return self._screen[2]

    def sweep(self, job: tuple[Size, int]) -> tuple[Size, Sets, bool]:
        """All sets of a size with one first member: those left open, and whether that's all."""
        what, first = job
        left = [np.empty((0, what.size), np.int64)]
        kept = 0
        at_once = SCREENED_AT_ONCE if self.plain else EXAMINED_AT_ONCE
        for sets in sets_from(first, self.free, self.must, what.size, at_once):
            if self.late():
                return what, np.concatenate(left), False
            balls = self.incumbent.balls_for(what, self.problem.ask.tolerance)
            if balls is None or self.done():
                break
            sets = of_different_families(sets, self.problem.family)
            if self.plain:
                still = self.screened(what, sets, balls)
            else:
                still = self.examined(what, sets, balls, BUDGETS[0], self.problem.ask.tolerance)
            left.append(sets[still])
            kept += len(left[-1])
            if kept > OPEN_KEPT:
                return what, np.concatenate(left), False
        return what, np.concatenate(left), True

    def rules(self, what: Size, tolerance: float, budget: int) -> Rules:
        """What sets of one size are held to."""
        ask = self.problem.ask
        return Rules(
            extra=float(what.extra),
            penalty=self.problem.penalty,
            min_share=float(ask.min_share),
            max_parts=int(ask.max_parts or 0),
            tolerance=float(tolerance),
            budget=budget,
        )

    def screened(self, what: Size, sets: Sets, balls: Balls) -> NDArray[np.bool_]:
        """Which `sets` of opaque paints the screen leaves open."""
        problem, screen = self.problem, self.screen(what, balls)
        report = empty_report(what.size)
        still = np.zeros(len(sets), np.bool_)
        screen_sets(
            sets,
            self.rules(what, problem.ask.tolerance, BUDGETS[0]),
            problem.paints,
            problem.film,
            problem.aim,
            screen.vertices.copy(),
            screen.tables,
            screen_room_for(screen.tables),
            self.incumbent.shared,
            report,
            still,
        )
        self.note(report)
        return still

    def examined(
        self, what: Size, sets: Sets, balls: Balls, budget: int, tolerance: float
    ) -> NDArray[np.bool_]:
        """Which `sets` stay open after `budget` regions of each."""
        problem = self.problem
        report = empty_report(what.size)
        still = np.zeros(len(sets), np.bool_)
        examine_sets(
            sets,
            self.rules(what, tolerance, budget),
            problem.paints,
            self.vertices(balls),
            problem.film,
            problem.aim,
            balls,
            room_for(what.size, problem.film, balls),
            self.incumbent.shared,
            report,
            still,
        )
        self.note(report)
        return still

    def look_again(self, left: Left, budget: int, tolerance: float) -> Left:
        """The sets that stay open when a recipe must be better by `tolerance` to count."""

        def look(job: tuple[Size, Sets]) -> tuple[Size, Sets]:
            what, sets = job
            if self.late():
                return what, sets
            balls = self.incumbent.balls_for(what, tolerance)
            if balls is None:
                return what, sets[:0]
            return what, sets[self.examined(what, sets, balls, budget, tolerance)]

        pieces = [
            (what, sets[i : i + AGAIN_AT_ONCE])
            for what, sets in left
            for i in range(0, len(sets), AGAIN_AT_ONCE)
        ]
        return [(what, sets) for what, sets in spread(look, pieces) if len(sets)]

    def note(self, report: Report) -> None:
        """Keep what a thread found."""
        problem = self.problem
        with self.incumbent.lock:
            self.evaluated += float(report.counts.sum())
            if not np.isfinite(report.cost[0]):
                return
            # A required paint stays in the recipe, however little of it is needed.
            keep = (report.shares > NOTHING) | np.isin(report.rows, self.must)
            rows, shares = report.rows[keep], report.shares[keep]
            value = float(report.cost[0]) - self._wished(report.rows)
            self.found.append(
                Solution(
                    rows=tuple(rows.tolist()),
                    shares=tuple((shares / shares.sum()).tolist()),
                    value=value,
                    cost=value + self._wished(rows),
                    price=price_of(problem, rows, shares / shares.sum()),
                    parts=tuple(report.parts[keep].tolist()) if problem.ask.max_parts else None,
                )
            )

    def _wished(self, rows: Indices) -> float:
        """What the wishes add to the objective of a set of paints."""
        each = float(self.problem.penalty[rows].sum())
        return each + self.problem.ask.per_paint * (len(rows) - 1)

    def _least(self) -> float:
        """The least cost known; two threads may have lowered the shared one across each other."""
        return min([float(self.incumbent.shared[0]), *(c.cost for c in self.found)])

    def run(self) -> Proof:
        """Sweep everything, look again at what stays open, and state the bound."""
        ask = self.problem.ask
        jobs = [
            (what, first)
            for what in sizes(self.problem)
            for first in (range(len(self.free)) if what.size > len(self.must) else (0,))
        ]
        left: Left = []
        complete = True
        for what, sets, whole in spread(self.sweep, jobs):
            complete = complete and whole
            if len(sets):
                left.append((what, sets))
        for budget in BUDGETS[1:]:
            if left and not self.late():
                left = self.look_again(left, budget, ask.tolerance)
        tolerance = ask.tolerance
        best = self._least()
        for part in GAPS if complete and not self.done() else ():
            if not left or self.late():
                break
            # What is still open may fall to a smaller ball: that states the gap.
            tolerance = max(ask.tolerance, part * (best - self.floor_cost))
            left = self.look_again(left, BUDGETS[1], tolerance)
        if left or not complete or self.done():
            return Proof(self.floor_cost, self.found, int(self.evaluated))
        bound = self._least() - tolerance
        bound = max(min(bound, self.incumbent.safe + self.floor_cost), self.floor_cost)
        return Proof(bound, self.found, int(self.evaluated))


def prove(problem: Prepared, cost: float, floor_cost: float, deadline: float) -> Proof:
    """Bound every allowed set of paints away from `cost` - tolerance, or find better recipes.

    `floor_cost`: what no recipe can beat; `deadline`: a `time.perf_counter` reading.
    """
    return Prover(problem, cost, floor_cost, deadline).run()
