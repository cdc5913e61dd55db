"""Every recipe that the quick search finishes, for somebody to choose by more than colour."""

from __future__ import annotations

from collections.abc import Iterator

from tubewise.search.compiled import ready
from tubewise.search.first_answers import first_answers
from tubewise.search.listing import Solution, as_proportions
from tubewise.search.prepared import prepare
from tubewise.search.problem import Proportions, SearchProblem


def candidates(ask: SearchProblem) -> tuple[Proportions, ...]:
    """The good recipes of every number of paints, each set of paints once, the least cost first.

    Nothing is proved. ValueError as `search`, and an empty tuple where the wishes leave none.
    """
    ready()
    problem = prepare(ask)
    once: dict[tuple[int, ...], Solution] = {}
    for solution in sorted(first_answers(problem), key=lambda s: (s.cost, len(s.rows), s.rows)):
        once.setdefault(tuple(sorted(solution.rows)), solution)
    kinds: Iterator[Proportions] = (as_proportions(problem, s, "best") for s in once.values())
    return tuple(kinds)
