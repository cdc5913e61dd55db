"""CIELAB in compiled code against the plain layer."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.colour.lab import lab_from_relative
from tubewise.search.kernels.cielab import compressed, compressed_slope, expanded, lab_of

RATIOS = np.concatenate([np.linspace(0.0, 0.02, 21), np.linspace(0.02, 1.2, 60)])


@pytest.mark.slow
def test_colours_are_those_of_the_colour_layer():
    rng = np.random.default_rng(1)
    for ratios in rng.choice(RATIOS, (300, 3)):
        assert lab_of(*ratios) == pytest.approx(lab_from_relative(ratios), abs=1e-10)


@pytest.mark.parametrize("x", RATIOS)
def test_what_is_compressed_comes_back_expanded(x):
    assert expanded(compressed(x)) == pytest.approx(x, abs=1e-13)


@pytest.mark.parametrize("x", RATIOS[1:])
def test_the_slope_agrees_with_differences(x):
    h = 1e-7
    if abs(x - 216.0 / 24389.0) < h:
        pytest.skip("the curve has a corner here")
    slope = (compressed(x + h) - compressed(x - h)) / (2.0 * h)
    assert compressed_slope(x) == pytest.approx(slope, rel=1e-5)
