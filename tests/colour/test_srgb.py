from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubewise.colour.hexes import hex_from_lab, hexes_from_lab, lab_from_hex, rgb8_from_lab
from tubewise.colour.lab import xyz_from_lab
from tubewise.colour.srgb import (
    encoded_from_linear,
    lab_from_linear,
    linear_from_encoded,
    linear_from_lab,
)
from tubewise.errors import UserError

hexes = st.integers(0, 0xFFFFFF).map("#{:06x}".format)


@given(hexes)
def test_hex_goes_to_lab_and_back(text: str) -> None:
    assert hex_from_lab(lab_from_hex(text)) == text


@given(st.floats(-0.5, 1.5))
def test_linear_light_goes_to_encoded_and_back(linear: float) -> None:
    assert float(linear_from_encoded(encoded_from_linear(linear))) == pytest.approx(
        linear, abs=5e-8
    )


@pytest.mark.parametrize(
    ("encoded", "linear"),
    [
        # IEC 61966-2-1, clause 5.2: the two branches and where they meet.
        (0.0, 0.0),
        (0.04045, 0.0031308),
        (0.02, 0.02 / 12.92),
        (0.5, 0.21404114),
        (1.0, 1.0),
    ],
)
def test_the_transfer_curve_of_iec_61966_2_1(encoded: float, linear: float) -> None:
    assert float(linear_from_encoded(encoded)) == pytest.approx(linear, abs=2e-7)
    assert float(encoded_from_linear(linear)) == pytest.approx(encoded, abs=1e-6)


@pytest.mark.parametrize(
    ("text", "xy"),
    [
        # IEC 61966-2-1, table 1: chromaticities of the primaries and the white.
        ("#ff0000", (0.6400, 0.3300)),
        ("#00ff00", (0.3000, 0.6000)),
        ("#0000ff", (0.1500, 0.0600)),
        ("#ffffff", (0.3127, 0.3290)),
    ],
)
def test_primaries_have_the_chromaticities_of_iec_61966_2_1(
    text: str, xy: tuple[float, float]
) -> None:
    xyz = xyz_from_lab(lab_from_hex(text))
    assert xyz[:2] / xyz.sum() == pytest.approx(xy, abs=3e-4)


@pytest.mark.parametrize(
    ("linear", "Y"), [((1, 0, 0), 21.26), ((0, 1, 0), 71.52), ((0, 0, 1), 7.22), ((1, 1, 1), 100)]
)
def test_primaries_have_the_luminance_of_iec_61966_2_1(
    linear: tuple[float, float, float], Y: float
) -> None:
    assert xyz_from_lab(lab_from_linear(linear))[1] == pytest.approx(Y, abs=1e-9)


def test_white_black_and_grey_are_neutral_on_the_screen() -> None:
    assert hexes_from_lab(np.array([[100, 0, 0], [0, 0, 0], [53.585, 0, 0]])) == [
        "#ffffff",
        "#000000",
        "#808080",
    ]


@pytest.mark.parametrize("text", ["#ABC", "abc", " #aabbcc ", "AABBCC"])
def test_short_bare_and_upper_case_forms_are_understood(text: str) -> None:
    assert lab_from_hex(text) == pytest.approx(lab_from_hex("#aabbcc"))


@pytest.mark.parametrize("text", ["", "#", "#12", "#12345g", "#1234567", "red", "##aabbcc"])
def test_other_text_is_refused_with_an_example(text: str) -> None:
    with pytest.raises(UserError, match="such as #"):
        lab_from_hex(text)


def test_many_colours_keep_their_shape() -> None:
    labs = np.random.default_rng(4).uniform(0, 60, (2, 5, 3))
    assert rgb8_from_lab(labs).shape == (2, 5, 3)
    assert rgb8_from_lab(labs).dtype == np.uint8
    assert lab_from_linear(linear_from_lab(labs)) == pytest.approx(labs, abs=1e-9)
