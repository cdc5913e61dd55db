"""The body of a palette against plain sampling, and what must hold of any body."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.spatial import cKDTree

from tubewise.colour.lights import weights, white_xyz
from tubewise.search.body import EDGE, FINE, Body, Fineness, body
from tubewise.search.mixtures import labs_of_mixtures
from tubewise.search.problem import SearchProblem

Floats = NDArray[np.float64]
Problem = Callable[..., SearchProblem]


def sampled(ask: SearchProblem, count: int, seed: int = 0) -> Floats:
    """CIELAB (count, 3) of random mixtures of four paints."""
    rng = np.random.default_rng(seed)
    rows = np.argsort(rng.random((count, len(ask.K))), axis=1)[:, :4]
    shares = rng.dirichlet(np.full(4, 0.6), count) / (ask.K + ask.S).mean(axis=1)[rows]
    shares /= shares.sum(axis=1, keepdims=True)
    W = np.ascontiguousarray((weights("D65") / white_xyz("D65")).T)
    return labs_of_mixtures(ask.K, ask.S, rows, shares, W)


def whole(ask: SearchProblem, fine: Fineness = FINE) -> Body:
    return body(ask, range(len(ask.K)), fine=fine)


@pytest.mark.parametrize("seed", [1, 2])
def test_a_palettes_own_mixtures_are_inside_it(problem: Problem, seed: int) -> None:
    ask = problem(7, seed, [50, 0, 0])
    inside = whole(ask).holds(sampled(ask, 100_000), within=0.5)
    assert inside.mean() > 0.999


@pytest.mark.slow
def test_the_body_is_solid_as_it_is_taken_to_be(problem: Problem) -> None:
    ask = problem(5, 1, [50, 0, 0])
    ours = whole(ask)
    rng = np.random.default_rng(2)
    # Colours drawn evenly from the body, a unit below its skin at least.
    at = np.argwhere(ours.thickness > 2.0)
    at = at[rng.integers(0, len(at), 3000)]
    low, high = ours.low[at[:, 0], at[:, 1]] + 1.0, ours.high[at[:, 0], at[:, 1]] - 1.0
    inner = np.column_stack([rng.uniform(low, high), at * ours.step - EDGE])
    away, _ = cKDTree(sampled(ask, 400_000)).query(inner)
    assert np.percentile(away, 99.0) < 2.0


@pytest.mark.slow
def test_the_error_stated_is_no_less_than_the_error_made(problem: Problem) -> None:
    ask = problem(6, 3, [50, 0, 0])
    ours = whole(ask)
    finer = whole(ask, Fineness(step=0.25, tolerance=0.04, longest=4.0))
    assert ours.error < 0.01
    assert abs(ours.volume - finer.volume) / finer.volume <= ours.error + 5e-4


def test_a_paint_more_takes_nothing_away(problem: Problem) -> None:
    ask = problem(6, 4, [50, 0, 0])
    few, more = body(ask, range(5)), body(ask, range(6))
    assert more.volume >= few.volume
    assert few.shared(more) == pytest.approx(few.volume, rel=2e-3)


def test_the_order_of_the_paints_changes_nothing(problem: Problem) -> None:
    ask = problem(6, 5, [50, 0, 0])
    turned = replace(ask, K=ask.K[::-1].copy(), S=ask.S[::-1].copy())
    assert whole(turned).volume == pytest.approx(whole(ask).volume, rel=1e-3)


def test_two_paints_span_no_volume(problem: Problem) -> None:
    assert body(problem(2, 1, [50, 0, 0]), (0, 1)).volume == 0.0


@pytest.mark.slow
def test_water_widens_a_film(problem: Problem) -> None:
    ask = problem(4, 6, [50, 0, 0], film_thickness=2.0, ground=0.85)
    water = np.zeros((1, 36))
    wet = replace(ask, K=np.vstack([ask.K, water]), S=np.vstack([ask.S, water]))
    dry = body(ask, range(4)).volume
    assert body(wet, range(4), free=4).volume > 1.2 * dry
