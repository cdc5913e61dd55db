from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.colour.lch import lab_from_lch
from tubewise.colour.lab import (
    lab_from_reflectance,
    lab_from_xyz,
    lch_from_lab,
    xyz_from_lab,
)
from tubewise.colour.lights import LIGHTS, OBSERVERS

lightness = st.floats(0.0, 100.0)
opponent = st.floats(-120.0, 120.0)
labs = st.tuples(lightness, opponent, opponent).map(np.array)
light = st.sampled_from(LIGHTS)
observer = st.sampled_from(OBSERVERS)


@given(labs, light, observer)
def test_lab_goes_to_xyz_and_back(lab: np.ndarray, light: str, observer: str) -> None:
    back = lab_from_xyz(xyz_from_lab(lab, light, observer), light, observer)
    assert back == pytest.approx(lab, abs=1e-8)


@given(labs)
def test_lab_goes_to_lch_and_back(lab: np.ndarray) -> None:
    lch = lch_from_lab(lab)
    assert 0.0 <= lch[2] < 360.0
    assert lab_from_lch(lch) == pytest.approx(lab, abs=1e-9)


@pytest.mark.parametrize(
    ("lab", "hue"),
    [((50, 10, 0), 0), ((50, 0, 10), 90), ((50, -10, 0), 180), ((50, 0, -10), 270)],
)
def test_hue_runs_from_red_over_yellow_and_green_to_blue(
    lab: tuple[float, float, float], hue: float
) -> None:
    assert lch_from_lab(lab) == pytest.approx([50, 10, hue])


@pytest.mark.parametrize("a", [0.0, -0.0])
def test_a_neutral_has_hue_zero(a: float) -> None:
    assert lch_from_lab([40.0, a, 0.0]) == pytest.approx([40, 0, 0])


def test_an_angle_a_hair_below_zero_does_not_become_360() -> None:
    assert lch_from_lab([50.0, 10.0, -1e-20])[2] == 0.0


def test_a_grey_of_18_percent_is_the_middle_of_lightness() -> None:
    # ISO/CIE 11664-4: L* = 116 (Y/Yn)^(1/3) - 16, here 49.496.
    assert lab_from_reflectance(np.full(36, 0.18)) == pytest.approx([49.4961, 0, 0], abs=1e-4)


def test_lightness_is_linear_in_the_deepest_blacks() -> None:
    # ISO/CIE 11664-4: below (6/29)^3 the slope is (29/3)^3 = 903.3 per unit of Y/Yn.
    assert lab_from_reflectance(np.full(36, 0.001))[0] == pytest.approx(0.9033, abs=1e-4)
