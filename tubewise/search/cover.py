"""The fewest, or cheapest, paints with which every target can be mixed: a covering problem.

A set of paints serves a target when at most three of them mix to within a stated difference. The
paints are binary unknowns of a linear programme (HiGHS). For a target that the paints chosen so far
don't serve, they are first enlarged as far as they still surely don't; then at least one paint
outside must be bought. Such cuts are added until nothing is missing: then what is chosen is the
least there is, since every cut holds for every answer.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_array

from tubewise.colour.arrays import Floats
from tubewise.search.aim import aim_at
from tubewise.search.near_sets import (
    FAR,
    NEAR,
    best_of,
    grow,
    workspace,
)
from tubewise.search.paints import paints_of
from tubewise.search.prepared import prepare
from tubewise.search.problem import SearchProblem
from tubewise.search.recipes import search
from tubewise.search.threads import spread

# Enlargements, each in another order, and so cuts, for each target missed.
ORDERS = 1
# So many of the targets missed get a cut at a time: one cut often serves several.
MOST = 3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Cover:
    """Paints that serve all targets but those `beyond` all paints together.

    `chosen`: rows of K, rising. `cost` is what was minimised, `lower_bound` what no choice goes
    below; `proved` where the two meet and every verdict rests on a bound. `cuts`: how many were
    needed; `seconds` spent.
    """

    chosen: tuple[int, ...]
    beyond: tuple[int, ...]
    cost: float
    lower_bound: float
    proved: bool
    cuts: int
    seconds: float


class Target:
    """One target: which sets of at most three paints come within the radius, as far as asked.

    Rows are those of `ask.K`; `free` is the row of a paint at hand anyway, or -1. Shares are at
    least `ask.min_share`, but for `free` and `thins`, rows taken in any proportion.
    """

    def __init__(
        self,
        ask: SearchProblem,
        lab: Floats,
        radius: float,
        free: int = -1,
        thins: Sequence[int] = (),
    ) -> None:
        self._ask = replace(
            ask, target_lab=lab, must=(), must_not=(), family=None, price=None, penalty=None
        )
        self._paints = paints_of(prepare(self._ask), free, thins)
        self._radius = radius
        self._aim, self.safe = aim_at(
            np.asarray(lab), radius, self._paints.W, float(self._paints.film.base)
        )
        n = len(ask.K)
        self._memo = np.full((n, n, n), -1, np.int8)
        self._work = workspace(self._paints, self._aim)

    def near_set(self, rows: Sequence[int]) -> tuple[int, ...]:
        """Some set of at most three of `rows` that comes within the radius; () without one."""
        members, found = np.array(sorted(rows), np.int64), np.empty(3, np.int64)
        known = self._memo, self._paints, self._aim, self._work
        while True:
            verdict = best_of(members, len(members), *known, found)
            if verdict == FAR:
                return ()
            if verdict == NEAR:
                return tuple(sorted({int(row) for row in found}))
            self._settle(tuple(int(row) for row in found))

    def _settle(self, rows: tuple[int, ...]) -> None:
        """Let the recipe search decide what planes could not."""
        kinds = sorted(set(rows))
        K, S = self._corners(kinds, self._ask.K), self._corners(kinds, self._ask.S)
        problem = replace(
            self._ask, K=K, S=S, max_paints=len(K), min_share=0.0, alternatives=0, prove=False
        )
        found = search(problem)
        if found.best.value > self._radius:
            # Only whether it comes within the radius is to be proved, not how far it is.
            enough = found.best.value - self._radius
            found = search(replace(problem, prove=True, tolerance=enough))
            if found.best.value > self._radius and found.lower_bound <= self._radius - 0.01:
                self.safe = False
        i, j, k = (rows[0], rows[1], rows[2]) if rows[0] != rows[1] else (rows[0], rows[2], rows[2])
        self._memo[i, j, k] = NEAR if found.best.value <= self._radius else FAR

    def _corners(self, rows: list[int], of: Floats) -> Floats:
        """K or S of the mixtures between which all that count of `rows` lie, and what is free."""
        thins = self._paints.thins[rows]
        shares = np.full((len(rows), len(rows)), self._paints.least)
        shares[:, thins] = 0.0
        shares[thins] = 0.0
        np.fill_diagonal(shares, 0.0)
        np.fill_diagonal(shares, 1.0 - shares.sum(axis=1))
        corners = shares @ of[rows]
        free = self._paints.free
        return np.vstack([corners, of[free]]) if free >= 0 and free not in rows else corners

    def enlarged(self, rows: Sequence[int], order: Sequence[int]) -> list[int]:
        """`rows`, which don't serve, and as many of `order` as still surely don't."""
        members = np.empty(len(rows) + len(order), np.int64)
        members[: len(rows)] = rows
        known = self._memo, self._paints, self._aim, self._work
        count = grow(members, len(rows), np.array(order, np.int64), *known)
        return [int(row) for row in members[:count]]


class _Cuts:
    """The covering problem as far as it is known: at least one paint of each cut."""

    def __init__(self, allowed: Sequence[int], must: Sequence[int], n: int) -> None:
        self.cuts: list[list[int]] = []
        self.n = n
        self.low, self.high = np.zeros(n), np.zeros(n)
        self.high[list(allowed)] = 1.0
        self.low[list(must)] = 1.0
        self.ceilings: list[tuple[Floats, float]] = []

    def least(self, cost: Floats) -> tuple[list[int], float]:
        """The cheapest choice that meets all cuts, and the bound that is proved for it.

        ValueError where no choice meets them.
        """
        rows = np.repeat(np.arange(len(self.cuts)), [len(cut) for cut in self.cuts])
        places = np.array([row for cut in self.cuts for row in cut], dtype=np.int64)
        shape = (len(self.cuts), self.n)
        constraints = []
        if self.cuts:
            matrix = csr_array((np.ones(len(rows)), (rows, places)), shape=shape)
            constraints.append(LinearConstraint(matrix, 1.0, np.inf))
        for along, ceiling in self.ceilings:
            constraints.append(LinearConstraint(along[None, :], -np.inf, ceiling))
        solved = milp(
            cost,
            constraints=constraints,
            integrality=np.ones(self.n),
            bounds=Bounds(self.low, self.high),
            options={"mip_rel_gap": 0.0},
        )
        if solved.x is None:
            raise ValueError("no choice of paints serves all targets within these limits")
        return [int(i) for i in np.flatnonzero(solved.x > 0.5)], float(solved.mip_dual_bound)


class Covering:
    """A covering problem: paints, targets (m, 3) in CIELAB, and how near is near enough.

    `ask` gives K, S, the light and the film; its own target and wishes are not looked at. `radius`
    > 0 in CIEDE2000. `free`: the row of a paint always at hand, which counts for none, or -1;
    `beside` (m,): the row of what is at hand for each target, where that differs. `thins`: rows of
    which the smallest share, `ask.min_share`, is not asked, as nobody counts the parts of white.
    """

    def __init__(
        self,
        ask: SearchProblem,
        targets: Floats,
        radius: float,
        *,
        free: int = -1,
        beside: Sequence[int] = (),
        thins: Sequence[int] = (),
    ) -> None:
        self.n, self.free = len(ask.K), free
        labs = np.asarray(targets, float)
        at_hand = beside or [free] * len(labs)
        self.targets = [
            Target(ask, lab, radius, row, thins) for lab, row in zip(labs, at_hand, strict=True)
        ]

    def missed(self, rows: Sequence[int]) -> list[int]:
        """Which targets `rows` don't serve."""
        served = spread(lambda t: bool(t.near_set(rows)), self.targets)
        return [i for i, has in enumerate(served) if not has]

    def serves(self, rows: Sequence[int], *, but: Sequence[int] = ()) -> bool:
        """Whether `rows` serve every target, `but` some."""
        return all(t.near_set(rows) for i, t in enumerate(self.targets) if i not in but)

    def least(
        self,
        costs: Sequence[Floats],
        *,
        must: Sequence[int] = (),
        must_not: Sequence[int] = (),
        seconds: float = 60.0,
    ) -> Cover:
        """The choice of paints least in the first of `costs` (n,), then in the second, and so on.

        `must` and `must_not` are rows. After `seconds` a choice that serves is completed without
        proof. A target that all allowed paints together miss is set aside as `beyond`.
        """
        started = time.perf_counter()
        allowed = sorted(set(range(self.n)) - set(must_not) - {self.free})
        known = _Cuts(allowed, must, self.n)
        beyond: set[int] = set()
        rng = np.random.default_rng(0)
        bound = 0.0
        rows: list[int] = sorted(must)
        for cost in costs:
            while True:
                rows, bound = known.least(cost)
                missed = [i for i in self.missed(rows) if i not in beyond]
                if not missed:
                    known.ceilings.append((cost, float(cost[rows].sum()) + 1e-6))
                    break
                if time.perf_counter() - started > seconds:
                    done = self._completed(rows, missed, allowed, must, costs[0])
                    return self._cover(done, beyond, costs[0], bound, len(known.cuts), started)
                beyond |= self._cut(known, rows, missed, allowed, rng)
        return self._cover(rows, beyond, costs[0], bound, len(known.cuts), started, costs[-1])

    def _cut(
        self,
        known: _Cuts,
        rows: list[int],
        missed: list[int],
        allowed: list[int],
        rng: np.random.Generator,
    ) -> set[int]:
        """Add cuts for the targets missed; returns those which all allowed paints miss."""
        others = [i for i in allowed if i not in rows]
        orders = [[others[i] for i in rng.permutation(len(others))] for _ in range(ORDERS)]

        def enlarged(job: tuple[int, list[int]]) -> tuple[int, list[int]]:
            target, order = job
            inside = set(self.targets[target].enlarged(rows, order))
            return target, [i for i in allowed if i not in inside]

        beyond: set[int] = set()
        for order in orders:
            # One job for each target: what is known of it is kept without locks.
            jobs = [(target, order) for target in missed[:MOST] if target not in beyond]
            for target, cut in spread(enlarged, jobs):
                if not cut:
                    beyond.add(target)
                elif cut not in known.cuts:
                    known.cuts.append(cut)
        return beyond

    def _completed(
        self,
        rows: list[int],
        missed: list[int],
        allowed: list[int],
        must: Sequence[int],
        cost: Floats,
    ) -> list[int]:
        """`rows` and what the missed targets need, without what turns out to be needless."""
        chosen = set(rows)
        for target in missed:
            if not self.targets[target].near_set(sorted(chosen)):
                chosen |= set(self.targets[target].near_set(allowed))
        left = set(self.missed(sorted(chosen)))
        for row in sorted(chosen - set(must), key=lambda i: -cost[i]):
            if set(self.missed(sorted(chosen - {row}))) <= left:
                chosen.remove(row)
        return sorted(chosen)

    def _cover(
        self,
        rows: list[int],
        beyond: set[int],
        cost: Floats,
        bound: float,
        cuts: int,
        started: float,
        last: Floats | None = None,
    ) -> Cover:
        spent = float(cost[rows].sum())
        met = last is not None and float(last[rows].sum()) - bound <= 1e-6
        return Cover(
            chosen=tuple(rows),
            beyond=tuple(sorted(beyond)),
            cost=spent,
            lower_bound=spent if met else bound,
            proved=met and all(target.safe for target in self.targets),
            cuts=cuts,
            seconds=time.perf_counter() - started,
        )
