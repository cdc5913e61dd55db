from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubewise.colour.difference import delta_e_2000, differences_2000

PAIRS = np.loadtxt(Path(__file__).with_name("sharma_pairs.csv"), delimiter=",", skiprows=2)

labs = st.tuples(st.floats(0.0, 100.0), st.floats(-120.0, 120.0), st.floats(-120.0, 120.0)).map(
    np.array
)


@pytest.mark.parametrize("pair", PAIRS, ids=[str(n) for n in range(1, len(PAIRS) + 1)])
def test_all_34_pairs_of_sharma_wu_and_dalal_2005_to_four_decimals(pair: np.ndarray) -> None:
    first, second, expected = pair[:3], pair[3:6], pair[6]
    assert float(delta_e_2000(first, second)) == pytest.approx(expected, abs=5e-5)
    assert float(delta_e_2000(second, first)) == pytest.approx(expected, abs=5e-5)


def test_there_are_34_pairs() -> None:
    assert PAIRS.shape == (34, 7)


@pytest.mark.slow
@given(labs, labs)
def test_the_difference_is_symmetric_and_not_negative(one: np.ndarray, two: np.ndarray) -> None:
    there, back = float(delta_e_2000(one, two)), float(delta_e_2000(two, one))
    assert there >= 0.0
    assert there == pytest.approx(back, abs=1e-9)


@given(labs)
def test_a_colour_does_not_differ_from_itself(lab: np.ndarray) -> None:
    assert float(delta_e_2000(lab, lab)) == 0.0


def test_arrays_broadcast() -> None:
    rng = np.random.default_rng(2)
    many, few = rng.uniform(-60, 60, (4, 1, 3)), rng.uniform(-60, 60, (5, 3))
    table = delta_e_2000(many, few)
    assert table.shape == (4, 5)
    assert table[3, 2] == pytest.approx(float(delta_e_2000(many[3, 0], few[2])))
    assert delta_e_2000(np.zeros((0, 3)), few[0]).shape == (0,)


@pytest.mark.parametrize("turned", [False, True])
def test_large_arrays_worked_in_blocks_agree_with_small_ones(turned: bool) -> None:
    rng = np.random.default_rng(3)
    many, one = rng.uniform(-60, 60, (100, 99, 3)), np.array([50.0, 20.0, -10.0])
    whole = delta_e_2000(one, many) if turned else delta_e_2000(many, one)
    assert whole.shape == (100, 99)
    assert whole[::33] == pytest.approx(delta_e_2000(many[::33], one), abs=1e-12)
    assert delta_e_2000(many, many[::-1])[7] == pytest.approx(delta_e_2000(many[7], many[-8]))


def test_the_parts_have_the_sense_of_the_change() -> None:
    parts = differences_2000([50.0, 40.0, 0.0], [60.0, 50.0, 20.0])
    assert parts.lightness > 0.0
    assert parts.chroma > 0.0
    assert parts.hue > 0.0
    back = differences_2000([60.0, 50.0, 20.0], [50.0, 40.0, 0.0])
    assert float(back.hue) == pytest.approx(-float(parts.hue))
