from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubewise.colour.gamut import in_srgb, into_srgb
from tubewise.colour.lab import lch_from_lab
from tubewise.colour.srgb import lab_from_linear, linear_from_lab

labs = st.tuples(st.floats(-5.0, 110.0), st.floats(-150.0, 150.0), st.floats(-150.0, 150.0)).map(
    np.array
)


@given(labs)
def test_every_colour_lands_inside_with_its_hue_and_lightness(lab: np.ndarray) -> None:
    mapped = into_srgb(lab)
    assert in_srgb(mapped)
    L, C, h = lch_from_lab(lab)
    L_mapped, C_mapped, h_mapped = lch_from_lab(mapped)
    assert L_mapped == pytest.approx(np.clip(L, 0.0, 100.0), abs=1e-4)
    assert C_mapped <= C + 1e-9
    turn = (h_mapped - h + 180.0) % 360.0 - 180.0
    assert np.radians(abs(turn)) * C_mapped == pytest.approx(0.0, abs=1e-6)


@given(labs)
def test_no_more_chroma_is_given_up_than_needed(lab: np.ndarray) -> None:
    mapped = into_srgb(lab)
    if not in_srgb(lab) and 1.0 < lab[0] < 99.0:
        assert not in_srgb(mapped * [1.0, 1.001, 1.001])


@given(labs)
def test_mapping_twice_changes_nothing_more(lab: np.ndarray) -> None:
    once = into_srgb(lab)
    assert into_srgb(once) == pytest.approx(once, abs=0.0)


def test_colours_a_screen_can_show_are_left_alone() -> None:
    shown = lab_from_linear(np.random.default_rng(5).uniform(size=(200, 3)))
    assert np.array_equal(into_srgb(shown), shown)


def test_clipping_channels_would_turn_the_hue_and_mapping_does_not() -> None:
    vivid = np.array([50.0, -20.0, -70.0])
    clipped = lab_from_linear(np.clip(linear_from_lab(vivid), 0.0, 1.0))
    hue = lch_from_lab(vivid)[2]
    assert abs(lch_from_lab(clipped)[2] - hue) > 3.0
    assert lch_from_lab(into_srgb(vivid))[2] == pytest.approx(hue, abs=1e-6)


def test_the_given_array_is_not_written_on() -> None:
    vivid = np.array([[50.0, 150.0, 0.0], [50.0, 5.0, 0.0]])
    into_srgb(vivid)
    assert vivid[0, 1] == 150.0
