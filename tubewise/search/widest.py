"""Which few of many paints mix to the largest body of colours.

How much a paint adds depends on what is there already, and more may be gained by two together than
by each alone, so no short cut is exact. The best of the smallest sets that span a volume starts,
the paint that adds most follows, and paints are exchanged as long as that gains. Few enough sets
are simply all tried.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import comb

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.search.body import (
    FINE,
    Body,
    Fineness,
    Skin,
    as_body,
    draw_triples,
    empty_skin,
    limits_of,
    merged,
    skin_of,
    surface,
)
from tubewise.search.paints import Paints, paints_of
from tubewise.search.prepared import prepare
from tubewise.search.problem import SearchProblem
from tubewise.search.threads import THREADS, spread

# Good enough to rank sets by: volumes to a percent or so.
RANKING = Fineness(step=2.0, tolerance=1.2, longest=20.0, share=0.26)
# Of very many paints, what all reach together is measured more roughly still.
MANY, ROUGHLY = 64, Fineness(step=2.0, tolerance=3.0, longest=40.0, share=0.51)
# So many sets are all tried.
ALL_TRIED = 6_000
# An exchange must gain so much of the volume, and sets this near the best are measured finely.
WORTH, CLOSE = 1e-3, 0.02
# A rough volume lacks less than this.
ABOVE = 1.03
MOST_ROUNDS = 12


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Widest:
    """The paints chosen, `rows` rising, and their body.

    `ceiling`: no choice has a larger volume (the volume of all paints together, where nothing
    better is known). `proved`: every allowed set was tried; then volumes within the bodies' error
    of one another may still be in the wrong order. `sets`: how many were measured.
    """

    rows: tuple[int, ...]
    body: Body
    ceiling: float
    proved: bool
    sets: int
    seconds: float


class _Chooser:
    """Paints to choose from, what must be in, and what the choice may cost."""

    def __init__(
        self,
        ask: SearchProblem,
        free: int,
        must: Sequence[int],
        price: Floats | None,
        budget: float,
    ) -> None:
        self.paints: Paints = paints_of(prepare(ask), free)
        self.must = tuple(sorted(must))
        self.others = [i for i in range(len(ask.K)) if i != free and i not in must]
        self.price = np.zeros(len(ask.K)) if price is None else price
        self.budget = budget
        self.measured = 0

    def affordable(self, rows: Iterable[int]) -> bool:
        """Whether a set may be bought."""
        return float(sum(self.price[i] for i in rows)) <= self.budget + 1e-9

    def skin(self, rows: Iterable[int], fine: Fineness = RANKING) -> Skin:
        """The skin of a set, by the mixtures of three."""
        used = sorted({*rows, *([self.paints.free] if self.paints.free >= 0 else [])})
        return self.added(empty_skin(fine.step), combinations(used, 3), fine)

    def added(
        self, base: Skin, triples: Iterable[tuple[int, ...]], fine: Fineness = RANKING
    ) -> Skin:
        """A skin widened by some triples; `base` stays as it is."""
        here = np.array(list(triples), np.int64).reshape(-1, 3)
        wide = Skin(base.low.copy(), base.high.copy(), base.step)
        draw_triples(here, self.paints, surface(), wide, limits_of(fine))
        return wide

    def with_each(self, rows: Sequence[int], choices: Sequence[int]) -> list[float]:
        """Volume of `rows` with each of `choices` added."""
        base = self.skin(rows)
        near = sorted({*rows, *([self.paints.free] if self.paints.free >= 0 else [])})
        self.measured += len(choices)
        return self._volumes(
            lambda j: as_body(self.added(base, ((*two, j) for two in combinations(near, 2)))),
            choices,
        )

    def of_each(self, sets: Sequence[tuple[int, ...]]) -> list[float]:
        """Volume of each of `sets`."""
        self.measured += len(sets)
        return self._volumes(lambda i: as_body(self.skin(sets[i])), range(len(sets)))

    @staticmethod
    def _volumes(measure: Callable[[int], Body], choices: Sequence[int]) -> list[float]:
        parts = np.array_split(np.array(choices, dtype=np.int64), THREADS)
        volumes: list[float] = []
        for part in spread(lambda part: [measure(int(j)).volume for j in part], parts):
            volumes += part
        return volumes


def widest(
    ask: SearchProblem,
    count: int,
    *,
    free: int = -1,
    must: Sequence[int] = (),
    price: Floats | None = None,
    budget: float = np.inf,
    together: Body | None = None,
    seconds: float = 60.0,
) -> Widest:
    """The `count` paints of `ask.K` whose mixtures fill the largest volume of CIELAB.

    `must` are rows that shall be in, `free` is one that is at hand anyway and counts for none;
    `price` (n,) of each and the `budget` for all. `together`, where the caller has it, is what
    `all_together` gives for what may be chosen. Fewer are chosen where no more can be bought or
    are there. After `seconds` paints are exchanged no more. ValueError where the paints that must
    be in are too many or too dear.
    """
    started = time.perf_counter()
    chooser = _Chooser(ask, free, must, price, budget)
    if len(chooser.must) > count or not chooser.affordable(chooser.must):
        raise ValueError("the paints that must be in are too many or too dear")
    count = min(count, len(chooser.must) + len(chooser.others))
    more = count - len(chooser.must)
    proved = comb(len(chooser.others), more) <= ALL_TRIED
    if proved:
        rows = _best_of_all(chooser, more)
    else:
        rows = _exchanged(chooser, _grown(chooser, count), started + seconds)
    skin = skin_of(chooser.paints, rows, FINE)
    before = as_body(skin_of(chooser.paints, rows, RANKING)).volume
    volume = as_body(skin).volume
    if together is None and not proved:
        together = all_together(ask, (*chooser.must, *chooser.others), free=free)
    return Widest(
        rows=tuple(sorted(rows)),
        body=as_body(skin, abs(volume - before) / volume if volume > 0.0 else 0.0),
        ceiling=volume if together is None or proved else max(together.volume * ABOVE, volume),
        proved=proved,
        sets=chooser.measured,
        seconds=time.perf_counter() - started,
    )


def all_together(ask: SearchProblem, rows: Sequence[int], *, free: int = -1) -> Body:
    """The body of the mixtures of any three of many `rows`, roughly: to about a hundredth."""
    chooser = _Chooser(ask, free, rows, None, np.inf)
    fine = RANKING if len(rows) <= MANY else ROUGHLY
    used = sorted({*rows, *([free] if free >= 0 else [])})
    parts = np.array_split(np.array(list(combinations(used, 3)), np.int64).reshape(-1, 3), THREADS)

    def drawn(part: NDArray[np.int64]) -> Skin:
        skin = empty_skin(fine.step)
        draw_triples(part, chooser.paints, surface(), skin, limits_of(fine))
        return skin

    return as_body(merged(list(spread(drawn, parts))))


def volumes_with_each(
    ask: SearchProblem, rows: Sequence[int], choices: Sequence[int], *, free: int = -1
) -> list[float]:
    """Volume of the mixtures of `rows` with each of `choices` added, to about a hundredth."""
    return _Chooser(ask, free, rows, None, np.inf).with_each(rows, choices)


def _best_of_all(chooser: _Chooser, more: int) -> tuple[int, ...]:
    """The best of all affordable sets: all by rough volume, the foremost by fine."""
    sizes = range(more, -1, -1)
    sets: list[tuple[int, ...]] = []
    for size in sizes:
        sets = [
            (*chooser.must, *some)
            for some in combinations(chooser.others, size)
            if chooser.affordable((*chooser.must, *some))
        ]
        if sets:
            break
    volumes = chooser.of_each(sets)
    best = max(volumes)
    near = [s for s, v in zip(sets, volumes, strict=True) if v >= best * (1.0 - CLOSE)]
    if len(near) == 1 or best <= 0.0:
        return near[0]
    near = [s for _, s in sorted(zip(volumes, sets, strict=True), key=lambda x: (-x[0], x[1]))]
    near = near[: sum(v >= best * (1.0 - CLOSE) for v in volumes)]
    fine = [as_body(skin_of(chooser.paints, rows, FINE)).volume for rows in near[:24]]
    return near[int(np.argmax(fine))]


def _grown(chooser: _Chooser, count: int) -> tuple[int, ...]:
    """A set grown paint by paint from the best smallest one that spans a volume."""
    rows = chooser.must
    have = len(rows) + (chooser.paints.free >= 0)
    first = min(max(3 - have, 0), count - len(rows))
    if first > 1:
        starts = [
            some
            for some in combinations(chooser.others, first)
            if chooser.affordable((*rows, *some))
        ]
        if starts:
            volumes = chooser.of_each([(*rows, *some) for some in starts])
            rows = (*rows, *starts[int(np.argmax(volumes))])
    while len(rows) < count:
        choices = [j for j in chooser.others if j not in rows and chooser.affordable((*rows, j))]
        if not choices:
            break
        volumes = chooser.with_each(rows, choices)
        rows = (*rows, choices[int(np.argmax(volumes))])
    return tuple(sorted(rows))


def _exchanged(chooser: _Chooser, rows: tuple[int, ...], deadline: float) -> tuple[int, ...]:
    """Exchange one paint for another as long as the volume grows."""
    best = chooser.of_each([rows])[0]
    for _ in range(MOST_ROUNDS):
        swap: tuple[float, tuple[int, ...]] = (best * (1.0 + WORTH), rows)
        for out in (i for i in rows if i not in chooser.must):
            if time.perf_counter() > deadline:
                return rows
            kept = tuple(i for i in rows if i != out)
            choices = [j for j in chooser.others if j not in rows]
            choices = [j for j in choices if chooser.affordable((*kept, j))]
            if not choices:
                continue
            volumes = chooser.with_each(kept, choices)
            at = int(np.argmax(volumes))
            if volumes[at] > swap[0]:
                swap = volumes[at], tuple(sorted((*kept, choices[at])))
        if swap[1] == rows:
            return rows
        best, rows = swap
    return rows
