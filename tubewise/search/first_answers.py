"""Good recipes quickly, before any proof."""

from __future__ import annotations

from tubewise.search.beam import beam
from tubewise.search.listing import Solution, solutions_of
from tubewise.search.parts import in_whole_parts
from tubewise.search.prepared import Prepared


def first_answers(problem: Prepared) -> list[Solution]:
    """Good recipes of every size, not yet proved."""
    found: list[Solution] = []
    for pool in beam(problem).values():
        if problem.ask.max_parts is None:
            found += solutions_of(problem, pool)
        else:
            found += solutions_of(problem, *in_whole_parts(problem, pool))
    return found
