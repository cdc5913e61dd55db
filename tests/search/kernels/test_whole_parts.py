"""Whole parts are all met, once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tubewise.search.balls import balls_of
from tubewise.search.branch.tree import room_for
from tubewise.search.kernels.objective import value_at
from tubewise.search.kernels.whole_parts import (
    best_parts,
    count_parts,
    first_parts,
    near_parts,
    next_parts,
    parts_value,
    try_parts,
)
from tubewise.search.prepared import prepare
from tubewise.search.sweep import Rules


@pytest.mark.parametrize("k", [1, 2, 3, 4])
def test_every_way_to_divide_a_total_comes_once_in_lexical_order(k):
    parts = np.empty(k, np.int64)
    met = []
    first_parts(parts, 7)
    more = True
    while more:
        met.append(tuple(parts.tolist()))
        more = next_parts(parts, 7)
    assert met == sorted(p for p in np.ndindex(*([8] * k)) if min(p) > 0 and sum(p) == 7)


def test_whole_parts_in_a_region_are_all_counted_and_tried(problem):
    ready = prepare(problem(3, 3, [50, 10, 10]))
    low, high = np.array([0.2, 0.1, 0.05]), np.array([0.6, 0.5, 0.5])
    fitting = [
        (a, b, c)
        for a in range(1, 11)
        for b in range(1, 11)
        for c in range(1, 11)
        if a + b + c <= 10
        and all(lo <= p / (a + b + c) <= hi for p, lo, hi in zip((a, b, c), low, high, strict=True))
    ]
    assert count_parts(low, high, 10, 10**6) >= len(fitting)
    room = room_for(3, ready.film, balls_of(ready, [1.0]))
    room.low[:], room.high[:] = low, high
    rules = Rules(0.0, ready.penalty, 0.0, 10, 0.0, 1)
    counts = np.zeros(2)
    rows = np.arange(3)
    value = try_parts(rows, np.inf, rules, ready.paints, ready.film, ready.aim, room, counts)
    values = {
        parts: parts_value(
            rows,
            np.array(parts),
            ready.paints,
            ready.film,
            ready.aim,
            np.empty((3, 36)),
            np.empty((1, 3)),
        )
        for parts in fitting
    }
    assert value == pytest.approx(min(values.values()), abs=1e-12)
    assert values[tuple(room.parts.tolist())] == pytest.approx(value, abs=1e-12)
    assert room.shares == pytest.approx(room.parts / room.parts.sum())
    assert 0 < counts[1] <= len(fitting)


@pytest.mark.parametrize("seed", range(6))
def test_parts_next_to_the_best_shares_are_nearly_the_best_of_all(problem, seed):
    ask = problem(3, seed, [50, 10, 10], max_paints=3)
    shares = np.array([0.55, 0.3, 0.15])
    ready = prepare(ask)
    # What these shares show is the target, so that they are the best there are.
    lab = np.empty((1, 3))
    value_at(ready.paints.K, ready.paints.S, shares, ready.film, ready.aim, np.empty((3, 36)), lab)
    ready = prepare(replace(ask, target_lab=lab[0]))
    sets, found = np.arange(3)[None, :], []
    for near in (False, True):
        values, parts = np.empty(1), np.ones((1, 3), np.int64)
        known = ready.paints, ready.film, ready.aim
        if near:
            near_parts(sets, shares[None, :], 30, 0.05, *known, values, parts)
        else:
            best_parts(sets, 30, 0.05, *known, values, parts)
        assert parts[0].sum() <= 30
        assert parts[0].min() >= 0.05 * parts[0].sum()
        found.append(values[0])
    assert found[0] <= found[1] <= found[0] + 0.3
