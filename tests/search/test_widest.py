"""The widest few of many paints against trying every set."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from tubewise.search import widest as room
from tubewise.search.body import body
from tubewise.search.problem import SearchProblem
from tubewise.search.widest import RANKING, widest

Problem = Callable[..., SearchProblem]


def test_all_tried_it_is_the_best_set(problem: Problem) -> None:
    ask = problem(8, 1, [50, 0, 0])
    answer = widest(ask, 4)
    best = max(body(ask, rows, fine=RANKING).volume for rows in combinations(range(8), 4))
    assert answer.proved
    assert answer.body.volume >= best * 0.99


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 2, 3, 4])
def test_grown_and_exchanged_it_comes_within_two_per_cent(
    problem: Problem, seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    ask = problem(11, seed, [50, 0, 0])
    best = widest(ask, 4)
    monkeypatch.setattr(room, "ALL_TRIED", 0)
    found = widest(ask, 4)
    assert best.proved
    assert not found.proved
    assert found.body.volume >= 0.98 * best.body.volume
    assert found.ceiling >= best.body.volume


def test_a_free_paint_counts_for_none_and_what_must_be_in_is_in(problem: Problem) -> None:
    ask = problem(8, 2, [50, 0, 0])
    answer = widest(ask, 3, free=0, must=(5,))
    assert 5 in answer.rows
    assert 0 not in answer.rows
    assert len(answer.rows) == 3


def test_a_budget_is_kept_and_a_larger_one_is_never_worse(problem: Problem) -> None:
    ask = problem(8, 3, [50, 0, 0])
    price = np.arange(4.0, 12.0)
    small, large = (widest(ask, 4, price=price, budget=b) for b in (25.0, 40.0))
    assert price[list(small.rows)].sum() <= 25.0
    assert large.body.volume >= small.body.volume * 0.995


def test_the_order_of_the_paints_changes_nothing(problem: Problem) -> None:
    ask = problem(8, 4, [50, 0, 0])
    turned = replace(ask, K=ask.K[::-1].copy(), S=ask.S[::-1].copy())
    assert {7 - i for i in widest(turned, 4).rows} == set(widest(ask, 4).rows)


def test_what_must_be_in_may_not_cost_more_than_the_budget(problem: Problem) -> None:
    ask = problem(5, 5, [50, 0, 0])
    with pytest.raises(ValueError, match="too dear"):
        widest(ask, 4, must=(1,), price=np.full(5, 9.0), budget=5.0)
