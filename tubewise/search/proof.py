"""Drives the proof: sweeps all sets in threads, keeps the ball fresh, states what is left open."""

from __future__ import annotations

import time
from dataclasses import dataclass
from threading import Lock

import numpy as np
from numpy.typing import NDArray

from tubewise.search.ball import PLANES, Ball, ball, ratios_of_lab, safe_radius
from tubewise.search.beam import feasible_sizes, spread
from tubewise.search.branch import DEEPEST, examine_sets, place
from tubewise.search.listing import NOTHING, Candidate, price_of
from tubewise.search.problem import LARGEST_SET, Floats, Prepared
from tubewise.search.sieve import Sieve, sieve
from tubewise.search.sift import sift_sets
from tubewise.search.subsets import Sets, of_different_families, sets_from

# Regions visited in a set before it is put aside for the second look, and in the later looks.
BUDGETS = (400, 4000, 40000)
OPEN_KEPT = 20000
# Sets handed to a kernel at a time: between two the clock is looked at.
SIFTED_AT_ONCE, EXAMINED_AT_ONCE = 1024, 128
# No ball is made larger than this part of the radius at which it meets a jump of CIEDE2000.
SAFETY = 0.98
# Parts of the cost tried as the gap for sets that stay open.
GAPS = (0.01, 0.03, 0.1, 0.25, 0.5)
# The bounds are written for regions of up to four corners; larger sets are searched without proof.
LARGEST_PROVED = 4


PLANES_T = np.ascontiguousarray(PLANES.T)


@dataclass(frozen=True, slots=True, eq=False)
class Proof:
    """`lower_bound` on every cost; `found` better recipes met; regions and mixtures computed."""

    lower_bound: float
    found: list[Candidate]
    evaluated: int


@dataclass(frozen=True, slots=True)
class _Size:
    """One number of paints to be swept.

    `extra` is what its number costs; `low`, `high` the least and most a set's wishes can cost.
    """

    size: int
    extra: float
    low: float
    high: float


Left = list[tuple[_Size, Sets]]


class _Incumbent:
    """The least cost so far, shared by the threads, and balls that fit it."""

    def __init__(self, problem: Prepared, cost: float) -> None:
        self.problem = problem
        self.shared = np.array([cost])
        self.lock = Lock()
        spectral = not np.isnan(problem.goal[0])
        self.safe = np.inf if spectral else SAFETY * safe_radius(problem.target)
        self.kept: dict[tuple[int, float], tuple[float, _Balls]] = {}

    def balls_for(self, what: _Size, tolerance: float) -> _Balls | None:
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
            while what.high > what.low and len(radii) < 12:
                radii.append(radii[-1] * 0.8)
            made = _Balls.of(self.problem, radii)
            self.kept[key] = (cost, made)
            return made


@dataclass(frozen=True, slots=True, eq=False)
class _Balls:
    A: Floats
    centre: Floats
    radii: Floats
    support: Floats
    surface: Floats

    @staticmethod
    def of(problem: Prepared, radii: list[float]) -> _Balls:
        if not np.isnan(problem.goal[0]):
            lights = len(problem.W)
            A = np.repeat(np.eye(3)[None], lights, axis=0)
            centre = ratios_of_lab(problem.target)
            made = [
                Ball(
                    r, A, centre, np.zeros((lights, 1, 3)), PLANES, np.zeros((lights, len(PLANES)))
                )
                for r in radii
            ]
        else:
            floor = float(problem.medium[2])
            made = [ball(problem.target, r, floor) for r in radii]
        first = made[0]
        return _Balls(
            A=first.A,
            centre=first.centre,
            radii=np.array(radii),
            support=np.stack([b.support for b in made]),
            surface=np.stack([b.surface for b in made]),
        )


class _Report:
    """What one call of a kernel writes: see `branch.examine_sets`."""

    def __init__(self, size: int) -> None:
        self.record = np.zeros(4)
        self.record[0] = np.inf
        self.rows = np.zeros(size, np.int64)
        self.shares = np.zeros(size)
        self.parts = np.ones(size, np.int64)


class _Pool:
    """All corners' arrays: the paints in units of strength, and room for the regions' corners."""

    def __init__(self, problem: Prepared, balls: _Balls) -> None:
        n = len(problem.K)
        room = n + LARGEST_SET + DEEPEST + 2
        lights = len(problem.W)
        self.PK, self.PS, self.PN, self.PH, self.PQ, self.PM = (
            np.zeros((room, 36)) for _ in range(6)
        )
        self.PT = np.zeros((room, lights, 3))
        self.PK[:n] = problem.K * problem.unit[:, None]
        self.PS[:n] = problem.S * problem.unit[:, None]
        for i in range(n):
            place(
                i,
                self.PK,
                self.PS,
                self.PN,
                self.PH,
                self.PQ,
                self.PM,
                self.PT,
                problem.medium,
                problem.ground,
                problem.W,
                balls.A,
                balls.centre,
            )

    def copy(self) -> tuple[Floats, ...]:
        """The arrays, own to one thread."""
        return tuple(
            a.copy() for a in (self.PK, self.PS, self.PN, self.PH, self.PQ, self.PM, self.PT)
        )


def _sizes(problem: Prepared) -> list[_Size]:
    """The sizes that must be swept; without wishes the largest includes the smaller ones."""
    ask = problem.ask
    sizes = list(feasible_sizes(problem))
    plain = (
        ask.min_share == 0.0
        and ask.max_parts is None
        and ask.per_paint == 0.0
        and not problem.penalty.any()
    )
    swept = sizes[-1:] if plain else sizes
    must = set(problem.must)
    free = np.sort(np.array([p for i, p in enumerate(problem.penalty) if i not in must]))
    base = float(problem.penalty[list(must)].sum()) if must else 0.0
    result = []
    for size in swept:
        extra = ask.per_paint * (size - 1)
        more = size - len(must)
        low = extra + base + float(free[:more].sum())
        high = extra + base + float(free[len(free) - more :].sum())
        result.append(_Size(size, extra, low, high))
    return result


class _Prover:
    """One proof: its incumbent, the corners' arrays, and what the threads report."""

    def __init__(self, problem: Prepared, cost: float, floor_cost: float, deadline: float) -> None:
        self.problem = problem
        self.floor_cost = floor_cost
        self.deadline = deadline
        self.incumbent = _Incumbent(problem, cost)
        self.must = np.array(problem.must, dtype=np.int64)
        required = set(problem.must)
        self.free = np.array([i for i in range(len(problem.K)) if i not in required], np.int64)
        self.found: list[Candidate] = []
        self.evaluated = 0.0
        self._pool: _Pool | None = None
        self._table: tuple[_Balls, int, Sieve] | None = None
        # Opaque mixtures and differences of colour are sifted; the rest goes straight to `branch`.
        self.plain = bool(problem.medium[3] <= 0.0 and np.isnan(problem.goal[0]))
        # Local optima are only looked for where any proportions will do.
        finished = problem.ask.max_parts is None and problem.ask.min_share == 0.0
        self.finish = (
            problem.K if finished else problem.K[:0],
            problem.S,
            problem.unit,
            *problem.args,
        )

    def late(self) -> bool:
        """Whether the time is up."""
        return time.perf_counter() > self.deadline

    def done(self) -> bool:
        """Whether the least cost is as low as any can be."""
        return bool(self.incumbent.shared[0] <= self.floor_cost + self.problem.ask.tolerance)

    def pool(self, balls: _Balls) -> tuple[Floats, ...]:
        """A thread's own copy of the corners' arrays."""
        with self.incumbent.lock:
            if self._pool is None:
                self._pool = _Pool(self.problem, balls)
            return self._pool.copy()

    def table(self, what: _Size, balls: _Balls) -> Sieve:
        """The sieve for these balls, made once."""
        with self.incumbent.lock:
            if self._table is None or self._table[0] is not balls or self._table[1] != what.size:
                made = sieve(
                    self.problem,
                    balls.A,
                    balls.centre,
                    balls.radii,
                    balls.support,
                    balls.surface,
                    what.size,
                )
                self._table = (balls, what.size, made)
            return self._table[2]

    def sweep(self, job: tuple[_Size, int]) -> tuple[_Size, Sets, bool]:
        """All sets of a size with one first member: those left open, and whether that's all."""
        what, first = job
        left = [np.empty((0, what.size), np.int64)]
        kept = 0
        at_once = SIFTED_AT_ONCE if self.plain else EXAMINED_AT_ONCE
        for sets in sets_from(first, self.free, self.must, what.size, at_once):
            if self.late():
                return what, np.concatenate(left), False
            balls = self.incumbent.balls_for(what, self.problem.ask.tolerance)
            if balls is None or self.done():
                break
            sets = of_different_families(sets, self.problem.family)
            if self.plain:
                still = self.sift(what, sets, balls)
            else:
                still = self.examine(what, sets, balls, BUDGETS[0], self.problem.ask.tolerance)
            left.append(sets[still])
            kept += len(left[-1])
            if kept > OPEN_KEPT:
                return what, np.concatenate(left), False
        return what, np.concatenate(left), True

    def sift(self, what: _Size, sets: Sets, balls: _Balls) -> NDArray[np.bool_]:
        """Which `sets` of opaque paints the sift leaves open."""
        table = self.table(what, balls)
        report = _Report(what.size)
        still = np.zeros(len(sets), np.bool_)
        sift_sets(
            sets,
            what.extra,
            self.problem.penalty,
            len(self.problem.K),
            table.own_pool(),
            *table.tables,
            BUDGETS[0],
            self.problem.ask.tolerance,
            self.finish,
            self.incumbent.shared,
            report.record,
            report.rows,
            report.shares,
            still,
        )
        self.note(report)
        return still

    def examine(
        self, what: _Size, sets: Sets, balls: _Balls, budget: int, tolerance: float
    ) -> NDArray[np.bool_]:
        """Which `sets` stay open after `budget` regions of each."""
        problem, ask = self.problem, self.problem.ask
        report = _Report(what.size)
        still = np.zeros(len(sets), np.bool_)
        examine_sets(
            sets,
            what.extra,
            problem.penalty,
            problem.K,
            problem.S,
            problem.unit,
            *self.pool(balls),
            ask.min_share,
            ask.max_parts or 0,
            tolerance,
            budget,
            *problem.args,
            balls.A,
            balls.centre,
            PLANES_T,
            balls.radii,
            balls.support,
            balls.surface,
            self.incumbent.shared,
            report.record,
            report.rows,
            report.shares,
            report.parts,
            still,
        )
        self.note(report)
        return still

    def look_again(self, left: Left, budget: int, tolerance: float) -> Left:
        """The sets that stay open when a recipe must be better by `tolerance` to count."""

        def look(job: tuple[_Size, Sets]) -> tuple[_Size, Sets]:
            what, sets = job
            if self.late():
                return what, sets
            balls = self.incumbent.balls_for(what, tolerance)
            if balls is None:
                return what, sets[:0]
            return what, sets[self.examine(what, sets, balls, budget, tolerance)]

        pieces = [(what, sets[i : i + 64]) for what, sets in left for i in range(0, len(sets), 64)]
        return [(what, sets) for what, sets in spread(look, pieces) if len(sets)]

    def note(self, report: _Report) -> None:
        """Keep what a thread found."""
        problem, record = self.problem, report.record
        with self.incumbent.lock:
            self.evaluated += float(record[2] + record[3])
            if not np.isfinite(record[0]):
                return
            # A required paint stays in the recipe, however little of it is needed.
            keep = (report.shares > NOTHING) | np.isin(report.rows, self.must)
            rows, shares = report.rows[keep], report.shares[keep]
            value = float(record[0]) - self._wished(report.rows)
            self.found.append(
                Candidate(
                    rows=tuple(rows.tolist()),
                    shares=tuple((shares / shares.sum()).tolist()),
                    value=value,
                    cost=value + self._wished(rows),
                    price=price_of(problem, rows, shares / shares.sum()),
                    parts=tuple(report.parts[keep].tolist()) if problem.ask.max_parts else None,
                )
            )

    def _wished(self, rows: NDArray[np.int64]) -> float:
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
            for what in _sizes(self.problem)
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
    return _Prover(problem, cost, floor_cost, deadline).run()
