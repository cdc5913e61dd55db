"""Every recipe that the quick search finishes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tubewise.advice.recipes.problem import problem_of
from tubewise.advice.recipes.target import target
from tubewise.paints.shelf import Shelf
from tubewise.search.candidates import candidates
from tubewise.search.recipes import search


@pytest.mark.slow
def test_each_set_once_and_the_least_cost_first() -> None:
    shelf = Shelf()
    paints = [shelf.pigment(ref) for ref in ("PW6", "PY3", "PR108", "PB29", "PG7", "PBk9")]
    problem = problem_of(target("lab:60,10,30", shelf), paints, 3, 9, prove=False)
    found = candidates(problem)
    sets = [tuple(sorted(one.indices)) for one in found]
    costs = [one.cost for one in found]
    assert len(set(sets)) == len(sets) > 10
    assert costs == sorted(costs)
    assert costs[0] == pytest.approx(search(problem).best.cost, abs=2e-3)
    assert {len(rows) for rows in sets} == {1, 2, 3}
    assert all(one.parts is not None and sum(one.parts) <= 9 for one in found)
    without = candidates(replace(problem, must_not=(0,)))
    assert all(0 not in one.indices for one in without)
    free = candidates(replace(problem, max_parts=None))
    assert all(one.parts is None and np.isclose(sum(one.shares), 1.0) for one in free)
