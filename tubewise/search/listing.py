"""From many finished sets of paints to one best and a few others that differ in kind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_relative
from tubewise.search.kernels.layout import Indices
from tubewise.search.kernels.reflectance import reflectance
from tubewise.search.pools import Pool
from tubewise.search.prepared import Prepared
from tubewise.search.problem import Kind, Proportions

# Shares this small are what the optimiser leaves of a paint it does not want.
NOTHING = 1e-7
# Costs this close are the same; then fewer paints, then the cheaper, then the first rows win.
SAME = 2e-3
# An alternative is listed only if its cost is within this of the best: beyond, it is no answer.
WORTH_LISTING = 6.0


@dataclass(frozen=True, slots=True)
class Solution:
    """A finished recipe in the problem's own rows."""

    rows: tuple[int, ...]
    shares: tuple[float, ...]
    value: float
    cost: float
    price: float
    parts: tuple[int, ...] | None = None


def price_of(problem: Prepared, rows: Sequence[int] | Indices, shares: Floats) -> float:
    """The price of a volume of a mixture; 0 when prices are not known."""
    if problem.ask.price is None:
        return 0.0
    price = np.asarray(problem.ask.price, dtype=float)[problem.rows]
    return float(price[list(rows)] @ shares)


def solutions_of(problem: Prepared, pool: Pool, parts: Indices | None = None) -> list[Solution]:
    """A pool as solutions; paints left with no share are dropped, and so is their penalty."""
    ask = problem.ask
    found = []
    for r in range(len(pool.sets)):
        members = [
            (int(row), float(share))
            for row, share in zip(pool.sets[r], pool.shares[r], strict=True)
            if share > NOTHING or int(row) in problem.must
        ]
        total = sum(share for _, share in members)
        rows = tuple(row for row, _ in members)
        shares = tuple(share / total for _, share in members)
        extra = float(problem.penalty[list(rows)].sum()) + ask.per_paint * (len(rows) - 1)
        found.append(
            Solution(
                rows=rows,
                shares=shares,
                value=float(pool.values[r]),
                cost=float(pool.values[r]) + extra,
                price=price_of(problem, rows, np.array(shares)),
                parts=None if parts is None else tuple(int(p) for p in parts[r]),
            )
        )
    return found


def best_of(solutions: Sequence[Solution]) -> Solution:
    """The least cost; of the same cost the fewest paints, the least price, the first rows."""
    least = min(c.cost for c in solutions)
    same = [c for c in solutions if c.cost <= least + SAME]
    return min(same, key=lambda c: (len(c.rows), round(c.price, 6), c.cost, c.rows))


def _differs(problem: Prepared, first: Solution, second: Solution) -> bool:
    """Whether two recipes would be mixed from visibly different sets of paints."""
    a, b = (set(problem.family[list(c.rows)].tolist()) for c in (first, second))
    return len(a & b) <= max(len(a), len(b)) - 2 or (len(a) <= 2 and len(a & b) <= 1)


def short_list(
    problem: Prepared, solutions: Sequence[Solution], best: Solution
) -> tuple[tuple[Solution, Kind], ...]:
    """The best first, then fewer paints, cheaper, and other paints, each adding something new."""
    listed: list[tuple[Solution, Kind]] = [(best, "best")]
    count = problem.ask.alternatives
    in_reach = [c for c in solutions if c.cost <= best.cost + WORTH_LISTING and c is not best]
    for size in range(len(best.rows) - 1, 0, -1):
        fewer = [c for c in in_reach if len(c.rows) == size]
        if fewer and len(listed) <= count:
            listed.append((best_of(fewer), "fewer paints"))
    if problem.ask.price is not None:
        cheaper = [c for c in in_reach if c.price < 0.8 * best.price and c.cost <= best.cost + 3.0]
        if cheaper and len(listed) <= count:
            listed.append((min(cheaper, key=lambda c: (c.price, c.cost, c.rows)), "cheaper"))
    for solution in sorted(in_reach, key=lambda c: (c.cost, len(c.rows), c.rows)):
        if len(listed) > count:
            break
        if all(_differs(problem, solution, other) for other, _ in listed):
            listed.append((solution, "other paints"))
    seen: set[tuple[int, ...]] = set()
    once = []
    for solution, kind in listed:
        if solution.rows not in seen:
            seen.add(solution.rows)
            once.append((solution, kind))
    return tuple(once)


def reflectance_of(problem: Prepared, rows: Sequence[int], shares: Sequence[float]) -> Floats:
    """Measured reflectance (36,) of a mixture by volume shares."""
    index = list(rows)
    c = np.asarray(shares, dtype=np.float64)
    out = np.empty(36)
    K, S = problem.paints.K[index], problem.paints.S[index]
    reflectance(c @ K, c @ S, problem.film, out)
    return out


def as_proportions(problem: Prepared, solution: Solution, kind: Kind) -> Proportions:
    """A solution in the asker's rows, with its colour and spectrum."""
    R = reflectance_of(problem, solution.rows, solution.shares)
    lab = lab_from_relative(problem.aim.W @ R)
    order = np.argsort(-np.asarray(solution.shares), kind="stable")
    return Proportions(
        indices=tuple(int(problem.rows[solution.rows[i]]) for i in order),
        shares=tuple(solution.shares[i] for i in order),
        parts=None if solution.parts is None else tuple(solution.parts[i] for i in order),
        value=solution.value,
        cost=solution.cost,
        lab=lab,
        delta_e00=delta_e_2000(problem.aim.lab, lab),
        reflectance=R,
        kind=kind,
    )
