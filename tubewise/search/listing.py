"""From many finished sets of paints to one best and a few others that differ in kind."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tubewise.search.beam import Pool
from tubewise.search.kernels import reflectance
from tubewise.search.problem import Floats, Found, Kind, Prepared, labs_of

# Shares this small are what the optimiser leaves of a paint it does not want.
NOTHING = 1e-7
# Costs this close are the same; then fewer paints, then the cheaper, then the first rows win.
SAME = 2e-3
# An alternative is listed only if its cost is within this of the best: beyond, it is no answer.
WORTH_LISTING = 6.0


@dataclass(frozen=True, slots=True)
class Candidate:
    """A finished recipe in the problem's own rows."""

    rows: tuple[int, ...]
    shares: tuple[float, ...]
    value: float
    cost: float
    price: float
    parts: tuple[int, ...] | None = None


def price_of(problem: Prepared, rows: Sequence[int] | NDArray[np.int64], shares: Floats) -> float:
    """The price of a volume of a mixture; 0 when prices are not known."""
    if problem.ask.price is None:
        return 0.0
    price = np.asarray(problem.ask.price, dtype=float)[problem.rows]
    return float(price[list(rows)] @ shares)


def candidates_of(
    problem: Prepared, pool: Pool, parts: NDArray[np.int64] | None = None
) -> list[Candidate]:
    """A pool as candidates; paints left with no share are dropped, and so is their penalty."""
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
            Candidate(
                rows=rows,
                shares=shares,
                value=float(pool.values[r]),
                cost=float(pool.values[r]) + extra,
                price=price_of(problem, rows, np.array(shares)),
                parts=None if parts is None else tuple(int(p) for p in parts[r]),
            )
        )
    return found


def best_of(candidates: Sequence[Candidate]) -> Candidate:
    """The least cost; of the same cost the fewest paints, the least price, the first rows."""
    least = min(c.cost for c in candidates)
    same = [c for c in candidates if c.cost <= least + SAME]
    return min(same, key=lambda c: (len(c.rows), round(c.price, 6), c.cost, c.rows))


def _differs(problem: Prepared, one: Candidate, other: Candidate) -> bool:
    """Whether two recipes would be mixed from visibly different sets of paints."""
    a, b = (set(problem.family[list(c.rows)].tolist()) for c in (one, other))
    return len(a & b) <= max(len(a), len(b)) - 2 or (len(a) <= 2 and len(a & b) <= 1)


def short_list(
    problem: Prepared, candidates: Sequence[Candidate], best: Candidate
) -> tuple[tuple[Candidate, Kind], ...]:
    """The best first, then fewer paints, cheaper, and other paints, each adding something new."""
    listed: list[tuple[Candidate, Kind]] = [(best, "best")]
    count = problem.ask.alternatives
    in_reach = [c for c in candidates if c.cost <= best.cost + WORTH_LISTING and c is not best]
    for size in range(len(best.rows) - 1, 0, -1):
        fewer = [c for c in in_reach if len(c.rows) == size]
        if fewer and len(listed) <= count:
            listed.append((best_of(fewer), "fewer paints"))
    if problem.ask.price is not None:
        cheaper = [c for c in in_reach if c.price < 0.8 * best.price and c.cost <= best.cost + 3.0]
        if cheaper and len(listed) <= count:
            listed.append((min(cheaper, key=lambda c: (c.price, c.cost, c.rows)), "cheaper"))
    for candidate in sorted(in_reach, key=lambda c: (c.cost, len(c.rows), c.rows)):
        if len(listed) > count:
            break
        if all(_differs(problem, candidate, other) for other, _ in listed):
            listed.append((candidate, "other paints"))
    seen: set[tuple[int, ...]] = set()
    once = []
    for candidate, kind in listed:
        if candidate.rows not in seen:
            seen.add(candidate.rows)
            once.append((candidate, kind))
    return tuple(once)


def reflectance_of(problem: Prepared, rows: Sequence[int], shares: Sequence[float]) -> Floats:
    """Measured reflectance (36,) of a mixture by volume shares."""
    index = list(rows)
    c = np.asarray(shares, dtype=np.float64)
    out = np.empty(36)
    reflectance(c @ problem.K[index], c @ problem.S[index], problem.medium, problem.ground, out)
    return out


def as_found(problem: Prepared, candidate: Candidate, kind: Kind) -> Found:
    """A candidate in the asker's rows, with its colour and spectrum."""
    from tubewise.search.kernels import delta_e

    R = reflectance_of(problem, candidate.rows, candidate.shares)
    lab = labs_of(R, problem.W)
    error = np.array([delta_e(*t, *x) for t, x in zip(problem.target, lab, strict=True)])
    order = np.argsort(-np.asarray(candidate.shares), kind="stable")
    return Found(
        indices=tuple(int(problem.rows[candidate.rows[i]]) for i in order),
        shares=tuple(candidate.shares[i] for i in order),
        parts=None if candidate.parts is None else tuple(candidate.parts[i] for i in order),
        value=candidate.value,
        cost=candidate.cost,
        lab=lab,
        delta_e00=error,
        reflectance=R,
        kind=kind,
    )
