"""Drives the proof: sweeps all sets in threads, keeps the ball fresh, states what is left open."""

from __future__ import annotations

import time
from dataclasses import dataclass
from threading import Lock

import numpy as np
from numpy.typing import NDArray

from tubewise.advice.search.ball import PLANES, Ball, ball, ratios_of_lab
from tubewise.advice.search.beam import feasible_sizes, spread
from tubewise.advice.search.branch import DEEPEST, place, recheck, sweep
from tubewise.advice.search.listing import Candidate
from tubewise.advice.search.problem import LARGEST_SET, Floats, Prepared

# Regions visited in a set before it is put aside for the second look, and in the later looks.
BUDGETS = (400, 4000, 40000)
OPEN_KEPT = 20000
# The bounds are written for regions of up to four corners; larger sets are searched without proof.
LARGEST_PROVED = 4


def _far_apart(planes: Floats, count: int) -> NDArray[np.int64]:
    """Rows of `planes` far from each other: each next one is the farthest from those taken."""
    taken = [0]
    while len(taken) < count:
        near = (planes @ planes[taken].T).max(axis=1)
        taken.append(int(near.argmin()))
    return np.array(taken, dtype=np.int64)


PLANES_T = np.ascontiguousarray(PLANES.T)
COARSE = _far_apart(PLANES, 14)


@dataclass(frozen=True, slots=True, eq=False)
class Proof:
    """`lower_bound` on every cost; `found` better recipes met; regions and mixtures computed."""

    lower_bound: float
    found: list[Candidate]
    evaluated: int


class _Incumbent:
    """The least cost so far, shared by the threads, and balls that fit it."""

    def __init__(self, problem: Prepared, cost: float) -> None:
        self.problem = problem
        self.shared = np.array([cost])
        self.lock = Lock()
        self.balls: dict[tuple[int, int], tuple[float, _Balls]] = {}

    def balls_for(self, low: float, high: float, key: int) -> _Balls | None:
        """Balls for sets whose wishes cost between `low` and `high`; None when none can win."""
        with self.lock:
            cost = float(self.shared[0])
            tolerance = self.problem.ask.tolerance
            largest = cost - tolerance - low
            if largest <= 0.0:
                return None
            kept = self.balls.get((key, 0))
            if kept and kept[0] - cost <= 0.25 * tolerance:
                return kept[1]
            radii = [largest]
            while radii[-1] > cost - tolerance - high + 1e-12 and len(radii) < 12:
                radii.append(radii[-1] * 0.8)
            if high <= low:
                radii = [largest]
            made = _Balls.of(self.problem, radii)
            self.balls[key, 0] = (cost, made)
            return made


@dataclass(frozen=True, slots=True, eq=False)
class _Balls:
    A: Floats
    centre: Floats
    radii: Floats
    support: Floats
    surface: Floats
    omega: Floats
    offset: Floats

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
        normals = PLANES @ first.A[0]
        return _Balls(
            A=first.A,
            centre=first.centre,
            radii=np.array(radii),
            support=np.stack([b.support for b in made]),
            surface=np.stack([b.surface for b in made]),
            omega=np.ascontiguousarray(normals @ problem.W[0]),
            offset=normals @ first.centre[0],
        )


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


@dataclass(slots=True)
class _Size:
    """One number of paints to be swept."""

    size: int
    extra: float
    low: float
    high: float


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


def prove(problem: Prepared, cost: float, floor_cost: float, deadline: float) -> Proof:
    """Bound every allowed set of paints away from `cost` - tolerance, or find better recipes.

    `floor_cost`: what no recipe can beat; `deadline`: a `time.perf_counter` reading.
    """
    incumbent = _Incumbent(problem, cost)
    ask = problem.ask
    found: list[Candidate] = []
    must = np.array(problem.must, dtype=np.int64)
    free = np.array([i for i in range(len(problem.K)) if i not in set(problem.must)], np.int64)
    most = ask.max_parts or 0
    evaluated = 0.0
    complete = True
    left: list[tuple[_Size, NDArray[np.int64]]] = []
    pools: dict[int, _Pool] = {}

    def note(
        record: Floats, rows: NDArray[np.int64], shares: Floats, parts: NDArray[np.int64]
    ) -> None:
        nonlocal evaluated
        evaluated += float(record[2] + record[3])
        if np.isfinite(record[0]):
            wish = float(problem.penalty[rows].sum()) + ask.per_paint * (len(rows) - 1)
            keep = [i for i in range(len(rows)) if shares[i] > 1e-7]
            found.append(
                Candidate(
                    rows=tuple(int(rows[i]) for i in keep),
                    shares=tuple(float(shares[i]) for i in keep),
                    value=float(record[0]) - wish,
                    cost=float(record[0]),
                    price=_price(problem, rows, shares),
                    parts=tuple(int(parts[i]) for i in keep) if most else None,
                )
            )

    def pool_for(balls: _Balls) -> _Pool:
        if 0 not in pools:
            pools[0] = _Pool(problem, balls)
        return pools[0]

    def run_chunk(job: tuple[_Size, int]) -> tuple[_Size, NDArray[np.int64], bool]:
        what, first = job
        empty = np.empty((0, what.size), np.int64)
        if time.perf_counter() > deadline:
            return what, empty, False
        balls = incumbent.balls_for(what.low, what.high, what.size)
        if balls is None or incumbent.shared[0] <= floor_cost + ask.tolerance:
            return what, empty, True
        with incumbent.lock:
            pool = pool_for(balls).copy()
        record = np.zeros(6)
        record[0] = np.inf
        rows, shares = np.zeros(what.size, np.int64), np.zeros(what.size)
        parts = np.ones(what.size, np.int64)
        opened = np.empty((OPEN_KEPT, what.size), np.int64)
        sweep(
            first,
            free,
            must,
            what.size,
            what.extra,
            problem.penalty,
            problem.K,
            problem.S,
            problem.unit,
            *pool,
            ask.min_share,
            most,
            ask.tolerance,
            BUDGETS[0],
            *problem.args,
            balls.A,
            balls.centre,
            PLANES_T,
            balls.radii,
            balls.support,
            balls.surface,
            COARSE,
            balls.omega,
            balls.offset,
            incumbent.shared,
            record,
            rows,
            shares,
            parts,
            opened,
        )
        with incumbent.lock:
            note(record, rows, shares, parts)
        count = int(record[4])
        return what, opened[: min(count, OPEN_KEPT)].copy(), count <= OPEN_KEPT

    jobs = [
        (what, first)
        for what in _sizes(problem)
        for first in (range(len(free)) if what.size > len(must) else (-1,))
    ]
    for what, opened, whole in spread(run_chunk, jobs):
        complete = complete and whole
        if len(opened):
            left.append((what, opened))

    for budget in BUDGETS[1:]:
        if not left or time.perf_counter() > deadline:
            break
        again: list[tuple[_Size, NDArray[np.int64]]] = []

        def run_list(
            job: tuple[_Size, NDArray[np.int64]], budget: int = budget
        ) -> tuple[_Size, NDArray[np.int64]]:
            what, sets = job
            if time.perf_counter() > deadline:
                return what, sets
            balls = incumbent.balls_for(what.low, what.high, what.size)
            if balls is None:
                return what, sets[:0]
            with incumbent.lock:
                pool = pool_for(balls).copy()
            record = np.zeros(6)
            record[0] = np.inf
            rows, shares = np.zeros(what.size, np.int64), np.zeros(what.size)
            parts = np.ones(what.size, np.int64)
            still = np.zeros(len(sets), np.bool_)
            recheck(
                np.ascontiguousarray(sets),
                what.extra,
                problem.penalty,
                problem.K,
                problem.S,
                problem.unit,
                *pool,
                ask.min_share,
                most,
                ask.tolerance,
                budget,
                *problem.args,
                balls.A,
                balls.centre,
                PLANES_T,
                balls.radii,
                balls.support,
                balls.surface,
                incumbent.shared,
                record,
                rows,
                shares,
                parts,
                still,
            )
            with incumbent.lock:
                note(record, rows, shares, parts)
            return what, sets[still]

        pieces = [(what, sets[i : i + 64]) for what, sets in left for i in range(0, len(sets), 64)]
        for what, sets in spread(run_list, pieces):
            if len(sets):
                again.append((what, sets))
        left = again

    best = float(incumbent.shared[0])
    if best <= floor_cost + ask.tolerance or not complete:
        return Proof(floor_cost, found, int(evaluated))
    if left:
        return Proof(floor_cost, found, int(evaluated))
    return Proof(max(best - ask.tolerance, floor_cost), found, int(evaluated))


def _price(problem: Prepared, rows: NDArray[np.int64], shares: Floats) -> float:
    if problem.ask.price is None:
        return 0.0
    price = np.asarray(problem.ask.price, dtype=float)[problem.rows]
    return float(price[rows] @ shares)
