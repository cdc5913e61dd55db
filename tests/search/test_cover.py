"""The covering problem against brute force over every set of a few paints."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from numpy.typing import NDArray

from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lights import weights, white_xyz
from tubewise.search.aim import STEEPEST
from tubewise.search.cover import Covering
from tubewise.search.mixtures import labs_of_mixtures
from tubewise.search.problem import SearchProblem
from tubewise.search.recipes import search

Floats = NDArray[np.float64]
Problem = Callable[..., SearchProblem]


def targets_of(ask: SearchProblem, seed: int, count: int = 4) -> Floats:
    """Colours of random mixtures of three paints, (count, 3)."""
    rng = np.random.default_rng(seed)
    rows = np.stack([rng.choice(len(ask.K), 3, replace=False) for _ in range(count)])
    shares = rng.dirichlet(np.ones(3), count) / (ask.K + ask.S).mean(axis=1)[rows]
    shares /= shares.sum(axis=1, keepdims=True)
    W = np.ascontiguousarray((weights("D65") / white_xyz("D65")).T)
    return labs_of_mixtures(ask.K, ask.S, rows, shares, W)


def near_sets(ask: SearchProblem, target: Floats, radius: float) -> list[set[int]]:
    """Every set of at most three paints that the recipe search brings within the radius."""
    return [
        set(rows)
        for size in (1, 2, 3)
        for rows in combinations(range(len(ask.K)), size)
        if search(
            replace(
                ask,
                K=ask.K[list(rows)],
                S=ask.S[list(rows)],
                target_lab=target,
                max_paints=size,
                tolerance=0.1,
                alternatives=0,
            )
        ).best.value
        <= radius
    ]


def best_by_brute_force(
    ask: SearchProblem, targets: Floats, radius: float, price: Floats
) -> tuple[int, ...]:
    """The smallest set that reaches every target, and of those the cheapest."""
    near = [near_sets(ask, target, radius) for target in targets]
    for size in range(1, len(ask.K) + 1):
        good = [
            rows
            for rows in combinations(range(len(ask.K)), size)
            if all(any(some <= set(rows) for some in sets) for sets in near)
        ]
        if good:
            return min(good, key=lambda rows: price[list(rows)].sum())
    raise AssertionError("all paints together reach them")


@pytest.mark.slow
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_the_fewest_and_then_cheapest_is_what_brute_force_finds(
    problem: Problem, seed: int
) -> None:
    ask = problem(6, seed, [50, 0, 0])
    targets = targets_of(ask, seed, 3)
    price = np.random.default_rng(seed).uniform(4.0, 20.0, 6).round(2)
    answer = Covering(ask, targets, 2.0).least([np.ones(6), price])
    assert answer.proved
    assert answer.chosen == best_by_brute_force(ask, targets, 2.0, price)


@pytest.mark.slow
@pytest.mark.parametrize("seed", [11, 12])
def test_a_smallest_share_is_obeyed_as_brute_force_obeys_it(problem: Problem, seed: int) -> None:
    ask = problem(6, seed, [50, 0, 0], min_share=0.2)
    targets = targets_of(ask, seed, 4)
    for target in targets:
        near = near_sets(ask, target, 2.0)
        covering = Covering(ask, target[None, :], 2.0)
        for size in (1, 2, 3):
            for rows in combinations(range(6), size):
                served = any(some <= set(rows) for some in near)
                assert covering.serves(rows) == served


def test_what_thins_is_taken_in_any_proportion_and_the_rest_is_not(problem: Problem) -> None:
    rng = np.random.default_rng(5)
    ask = problem(3, 15, [50, 0, 0], min_share=0.25)
    W = np.ascontiguousarray((weights("D65") / white_xyz("D65")).T)
    # A trace of the first in the two others, which keep three parts to one between them at most.
    held = rng.uniform(0.25, 0.75, 40)
    thinned = rng.uniform(0.0, 1.0, 40)
    shares = np.stack([thinned, (1 - thinned) * held, (1 - thinned) * (1 - held)], axis=1)
    rows = np.tile(np.arange(3), (40, 1))
    labs = labs_of_mixtures(ask.K, ask.S, rows, shares, W)
    covering = Covering(ask, labs, 0.05, thins=(0,))
    assert covering.missed(range(3)) == []
    strict = Covering(ask, labs, 0.05).missed(range(3))
    traces = [i for i in range(40) if shares[i].min() < 0.2]
    assert traces and set(strict) & set(traces)


def test_no_more_is_reached_where_shares_have_a_smallest(problem: Problem) -> None:
    ask = problem(8, 13, [50, 0, 0])
    targets = targets_of(ask, 13, 6)
    free = Covering(ask, targets, 1.0)
    coarse = Covering(replace(ask, min_share=0.3), targets, 1.0)
    everything = range(8)
    assert set(free.missed(everything)) <= set(coarse.missed(everything))
    assert coarse.missed(everything), "random mixtures seldom have thirds of everything"


def test_the_cheapest_set_may_be_larger_than_the_smallest(problem: Problem) -> None:
    ask = problem(9, 4, [50, 0, 0])
    targets = targets_of(ask, 4, 5)
    price = np.random.default_rng(4).uniform(1.0, 40.0, 9)
    covering = Covering(ask, targets, 2.0)
    fewest, cheapest = covering.least([np.ones(9), price]), covering.least([price, np.ones(9)])
    assert len(fewest.chosen) <= len(cheapest.chosen)
    assert price[list(cheapest.chosen)].sum() <= price[list(fewest.chosen)].sum() + 1e-6


def test_more_paints_to_choose_from_are_never_worse(problem: Problem) -> None:
    ask = problem(9, 5, [50, 0, 0])
    targets = targets_of(replace(ask, K=ask.K[:6], S=ask.S[:6]), 5)
    covering = Covering(ask, targets, 2.0)
    few = covering.least([np.ones(9)], must_not=(6, 7, 8))
    many = covering.least([np.ones(9)])
    assert many.cost <= few.cost


def test_what_must_be_in_is_in_and_what_must_not_is_not(problem: Problem) -> None:
    ask = problem(8, 6, [50, 0, 0])
    covering = Covering(ask, targets_of(ask, 6), 3.0)
    free = covering.least([np.ones(8)])
    other = next(i for i in range(8) if i not in free.chosen)
    asked = covering.least([np.ones(8)], must=(other,))
    assert other in asked.chosen
    assert asked.cost >= free.cost
    without = covering.least([np.ones(8)], must_not=(free.chosen[0],))
    assert free.chosen[0] not in without.chosen


def test_a_target_out_of_everybodys_reach_is_set_aside(problem: Problem) -> None:
    ask = problem(5, 7, [50, 0, 0])
    targets = np.vstack([targets_of(ask, 7, 2), [[60.0, -110.0, 90.0]]])
    answer = Covering(ask, targets, 2.0).least([np.ones(5)])
    assert answer.beyond == (2,)
    assert answer.proved


def test_out_of_time_it_still_serves_and_does_not_claim_proof(problem: Problem) -> None:
    ask = problem(9, 8, [50, 0, 0])
    targets = targets_of(ask, 8, 6)
    covering = Covering(ask, targets, 1.0)
    hasty = covering.least([np.ones(9)], seconds=0.0)
    assert covering.missed(hasty.chosen) == []
    assert not hasty.proved
    assert hasty.lower_bound <= covering.least([np.ones(9)]).cost <= hasty.cost


@pytest.mark.slow
def test_near_grey_where_differences_turn_over_the_answer_is_proved_too(problem: Problem) -> None:
    ask = problem(6, 9, [50, 0, 0])
    greys = np.array([[97.0, -0.5, 1.0], [60.0, 0.3, -0.2]])
    answer = Covering(ask, greys, 2.5).least([np.ones(6)])
    assert answer.proved


def test_mixtures_of_three_and_what_is_at_hand_are_all_seen(problem: Problem) -> None:
    rng = np.random.default_rng(10)
    ask = problem(8, 10, [50, 0, 0])
    W = np.ascontiguousarray((weights("D65") / white_xyz("D65")).T)
    rows = np.array([[*sorted(rng.choice(7, 3, replace=False)), 7] for _ in range(100)])
    shares = rng.dirichlet(np.ones(4), 100) / (ask.K + ask.S).mean(axis=1)[rows]
    labs = labs_of_mixtures(ask.K, ask.S, rows, shares / shares.sum(axis=1, keepdims=True), W)
    covering = Covering(ask, labs, 0.05, free=7)
    for target, three in zip(covering.targets, rows[:, :3], strict=True):
        assert target.near_set(three.tolist())


@pytest.mark.slow
def test_films_with_water_at_hand(problem: Problem) -> None:
    ask = problem(5, 3, [50, 0, 0], film_thickness=2.0, ground=0.85)
    water = np.zeros((1, 36))
    wet = replace(ask, K=np.vstack([ask.K, water]), S=np.vstack([ask.S, water]))
    # The ground itself is a target that water alone reaches.
    bare = search(replace(wet, must=(5,), max_paints=1)).best.lab[0]
    covering = Covering(wet, bare[None, :] + [[0.0, 0.0, -0.5]], 1.5, free=5)
    answer = covering.least([np.ones(6)])
    assert 5 not in answer.chosen
    assert len(answer.chosen) <= 1


def test_ciede2000_is_nowhere_steeper_than_the_aim_assumes() -> None:
    rng = np.random.default_rng(0)
    target = rng.uniform([0, -60, -60], [100, 60, 60], (20_000, 3))
    here = target + rng.normal(0.0, 6.0, (20_000, 3))
    there = here + rng.normal(0.0, 0.02, (20_000, 3))
    change = np.abs(delta_e_2000(target, there) - delta_e_2000(target, here))
    assert (change <= STEEPEST * np.linalg.norm(there - here, axis=1)).mean() > 0.9999
