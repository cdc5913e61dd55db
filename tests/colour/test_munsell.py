from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from tests.colour.notation import notation_of
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.hexes import lab_from_hex
from tubewise.colour.lab import xyz_from_lab
from tubewise.colour.munsell import (
    d65_from_c,
    hvc_from_lab,
    hvc_from_munsell,
    lab_from_hvc,
    lab_from_munsell,
    munsell_from_hvc,
    munsells_from_lab,
)
from tubewise.colour.renotation import (
    FAMILIES,
    greatest_chroma,
    luminance_from_value,
    value_from_luminance,
)
from tubewise.errors import UserError


@pytest.mark.slow
@pytest.mark.parametrize("family", FAMILIES)
@pytest.mark.parametrize("rest", ["2.5{} 3/4", "5{} 6/6", "7.5{} 8.5/1", "10{} 4.5/5", "1.3{} 2/2"])
def test_a_notation_goes_to_lab_and_back(family: str, rest: str) -> None:
    notation = rest.format(family)
    assert notation_of(lab_from_munsell(notation)) == notation


@pytest.mark.slow
@settings(max_examples=40)
@given(
    st.floats(0.0, 100.0, exclude_max=True),
    st.floats(0.5, 9.9),
    st.floats(0.05, 1.0),
)
@example(72.58, 0.5, 1.0)
@example(53.0, 1.064, 1.0)
def test_hue_value_and_chroma_go_to_lab_and_back(hue: float, value: float, share: float) -> None:
    chroma = share * min(20.0, float(greatest_chroma(np.array([hue]), np.array([value]))[0]))
    back = hvc_from_lab(lab_from_hvc([hue, value, chroma]))
    arc = ((back[0] - hue + 50.0) % 100.0 - 50.0) * chroma
    assert back[1:] == pytest.approx([value, chroma], abs=1e-4)
    assert arc == pytest.approx(0.0, abs=1e-3)


@pytest.mark.slow
def test_every_full_chroma_is_that_of_a_light_and_goes_back() -> None:
    """The renotation is continued past what any light can be; a chroma of that is no colour's."""
    rng = np.random.default_rng(11)
    hue, value = rng.uniform(0.0, 100.0, 4_000), rng.uniform(0.5, 9.9, 4_000)
    chroma = np.minimum(20.0, greatest_chroma(hue, value))
    lab = lab_from_hvc(np.stack((hue, value, chroma), axis=-1))
    assert (xyz_from_lab(lab) @ np.linalg.inv(d65_from_c()).T > 0.0).all()
    back = hvc_from_lab(lab)
    np.testing.assert_allclose(back[:, 1], value, atol=1e-4)
    np.testing.assert_allclose(back[:, 2], chroma, atol=1e-4)
    with pytest.raises(UserError, match="no surface goes beyond"):
        hvc_from_munsell("2.5PB 0.5/20")


@pytest.mark.parametrize("notation", ["N 5", "N5", "N5/", "n 5.0 /", "5R 5/0"])
def test_neutrals_have_no_chroma(notation: str) -> None:
    lab = lab_from_munsell(notation)
    assert lab[1:] == pytest.approx([0, 0], abs=1e-9)
    # ASTM D1535: value 5 has luminance 19.27.
    assert xyz_from_lab(lab)[1] == pytest.approx(19.27, abs=0.005)
    assert notation_of(lab) == "N 5"


def test_black_and_white_are_the_ends_of_value() -> None:
    assert munsells_from_lab([[0, 0, 0], [100, 0, 0]]) == ["N 0", "N 10"]
    assert notation_of([50.0, 0.5, 0.5]) == "N 4.9"


@pytest.mark.parametrize(
    ("value", "Y"),
    # ASTM D1535, table of luminance factors: 0.975 of Newhall, Nickerson & Judd 1943.
    [(1.0, 1.180), (3.0, 6.391), (6.0, 29.30), (9.0, 76.70), (10.0, 100.0)],
)
def test_luminance_of_value_follows_astm_d1535(value: float, Y: float) -> None:
    assert float(luminance_from_value(np.array(value))) == pytest.approx(Y, rel=1e-3)
    assert float(value_from_luminance(np.array(Y))) == pytest.approx(value, abs=2e-3)


def test_hue_families_follow_the_circle() -> None:
    assert hvc_from_munsell("5R 4/2") == (5.0, 4.0, 2.0)
    assert hvc_from_munsell("10RP 4/2") == hvc_from_munsell("0R 4/2") == (0.0, 4.0, 2.0)
    assert hvc_from_munsell("0yr4/2") == hvc_from_munsell("10R 4 / 2") == (10.0, 4.0, 2.0)
    assert munsell_from_hvc(99.99, 4.0, 2.0) == "10RP 4/2"
    assert munsell_from_hvc(10.0, 4.0, 2.0) == "10R 4/2"
    assert munsell_from_hvc(12.54, 4.25, 0.29) == "N 4.2"


@pytest.mark.parametrize(
    ("notation", "what"),
    [
        ("", "not a Munsell notation"),
        ("5X 4/12", "not a Munsell notation"),
        ("5R 4", "not a Munsell notation"),
        ("R 4/12", "not a Munsell notation"),
        ("5R -4/12", "not a Munsell notation"),
        ("5R 4/12 or so", "not a Munsell notation"),
        ("N", "not a Munsell notation"),
        ("11R 4/12", "from 0 to 10"),
        ("5R 11/2", "value"),
        ("N 10.5", "value"),
        ("5R 4/30", "no surface goes beyond"),
        ("5B 9/18", "no surface goes beyond"),
    ],
)
def test_a_notation_that_cannot_be_is_refused_in_plain_words(notation: str, what: str) -> None:
    with pytest.raises(UserError, match=what):
        lab_from_munsell(notation)


def test_a_colour_no_surface_can_have_is_refused() -> None:
    with pytest.raises(UserError, match="no Munsell notation"):
        notation_of([50.0, -400.0, 400.0])
    with pytest.raises(UserError, match="no Munsell notation"):
        notation_of([50.0, 150.0, 0.0])
    with pytest.raises(UserError, match="no Munsell notation"):
        notation_of([150.0, 0.0, 0.0])


@pytest.mark.slow
def test_every_colour_a_screen_can_show_has_a_notation_that_can_be_read_back() -> None:
    steps = np.linspace(0.0, 255.0, 6).astype(int)
    texts = [f"#{r:02x}{g:02x}{b:02x}" for r in steps for g in steps for b in steps]
    labs = np.array([lab_from_hex(text) for text in texts])
    read = np.array([lab_from_munsell(notation) for notation in munsells_from_lab(labs)])
    # One decimal of hue, value and chroma resolves about a just visible step.
    assert np.percentile(delta_e_2000(labs, read), 95) < 1.0


def test_arrays_keep_their_shape() -> None:
    hvc = np.array([[[5.0, 4.0, 6.0], [55.0, 7.0, 3.0]]])
    lab = lab_from_hvc(hvc)
    assert lab.shape == (1, 2, 3)
    assert hvc_from_lab(lab) == pytest.approx(hvc, abs=1e-5)
