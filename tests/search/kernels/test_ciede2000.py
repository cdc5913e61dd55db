"""CIEDE2000 in compiled code: the published pairs, the plain layer, and its slopes."""

from __future__ import annotations

import numpy as np
import pytest

from tests.colour.test_difference import PAIRS
from tubewise.colour.difference import delta_e_2000
from tubewise.search.kernels.ciede2000 import delta_e, delta_e_slopes


@pytest.mark.parametrize("pair", PAIRS, ids=[str(n) for n in range(1, len(PAIRS) + 1)])
def test_all_34_pairs_of_sharma_wu_and_dalal_2005_to_four_decimals(pair):
    assert delta_e(*pair[:6]) == pytest.approx(pair[6], abs=5e-5)
    assert delta_e(*pair[3:6], *pair[:3]) == pytest.approx(pair[6], abs=5e-5)


def test_ciede2000_is_that_of_the_colour_layer():
    rng = np.random.default_rng(3)
    one = np.column_stack([rng.uniform(0, 100, 300), rng.normal(0, 40, (300, 2))])
    other = one + rng.normal(0, 12, (300, 3))
    ours = [delta_e(*a, *b) for a, b in zip(one, other, strict=True)]
    assert ours == pytest.approx(delta_e_2000(one, other), abs=1e-9)


def test_ciede2000_slopes_agree_with_differences():
    rng = np.random.default_rng(4)
    for _ in range(200):
        target = np.array([rng.uniform(5, 95), *rng.normal(0, 30, 2)])
        sample = target + rng.normal(0, 8, 3)
        grad, metric = np.empty(3), np.empty((3, 3))
        square = delta_e_slopes(*target, *sample, grad, metric)
        assert square == pytest.approx(delta_e(*target, *sample) ** 2, abs=1e-8)
        steps = np.eye(3) * 1e-5
        slopes = [
            (delta_e(*target, *(sample + d)) ** 2 - delta_e(*target, *(sample - d)) ** 2) / 4e-5
            for d in steps
        ]
        assert grad == pytest.approx(slopes, abs=1e-4 * (1 + np.abs(slopes).max()))


def test_grey_and_identical_colours_have_finite_slopes():
    grad, metric = np.empty(3), np.empty((3, 3))
    assert delta_e_slopes(50.0, 0.0, 0.0, 50.0, 0.0, 0.0, grad, metric) == 0.0
    assert np.isfinite(grad).all() and np.isfinite(metric).all()
