"""Shares and amounts in units of strength, there and back."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.search.kernels.amounts import amounts_of, outermost, shares_of
from tubewise.search.prepared import prepare


@pytest.mark.parametrize("floor", [0.0, 0.1, 1.0 / 3.0])
def test_shares_come_back_from_amounts(problem, floor):
    paints = prepare(problem(6, 4, [50, 0, 0])).paints
    rows = np.array([1, 3, 4])
    Kv, Sv, volume = np.empty((3, 36)), np.empty((3, 36)), np.empty((3, 3))
    outermost(paints, rows, floor, Kv, Sv, volume)
    rng = np.random.default_rng(1)
    for free in rng.dirichlet(np.ones(3), 20):
        shares = floor + (1.0 - 3.0 * floor) * free
        b, back = np.empty(3), np.empty(3)
        amounts_of(shares, paints.unit, rows, floor, b)
        shares_of(b, volume, back)
        assert b.sum() == pytest.approx(1.0)
        assert back == pytest.approx(shares, abs=1e-12)
        # The mixture of the outermost ones has K and S of the paints' own mixture, up to scale.
        own = np.concatenate([shares @ paints.K[rows], shares @ paints.S[rows]])
        ours = np.concatenate([b @ Kv, b @ Sv])
        assert ours / ours.sum() == pytest.approx(own / own.sum(), rel=1e-9)


def test_shares_below_the_smallest_are_lifted_to_it(problem):
    paints = prepare(problem(4, 4, [50, 0, 0])).paints
    b = np.empty(2)
    amounts_of(np.array([0.02, 0.98]), paints.unit, np.array([0, 1]), 0.1, b)
    assert b[0] == 0.0 and b[1] == 1.0
