"""Predicted mixtures: colour, spectrum and how sure we are."""

from __future__ import annotations

import numpy as np
import pytest

from tests.advice.shops import WATERCOLOUR
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.smooth import smooth_reflectance
from tubewise.errors import UserError
from tubewise.paints.appearance import ground_reflectance
from tubewise.paints.mixing import mix
from tubewise.paints.shelf import Shelf
from tubewise.paints.wash import WATER_NAME


def test_a_rose_a_blue_and_white_make_a_violet(shelf: Shelf) -> None:
    made = mix([shelf.term(t) for t in ("PV19/gamma", "PB29", "PW6")], [1, 1, 4])
    _, a, b = made.colour.lab
    assert a > 10 and b < -10
    assert "violet" in made.words or "purple" in made.words
    assert made.basis == "measured (published)"
    assert made.uncertainty.delta_e00_95 > 0.5
    assert len(made.spectrum.wavelengths_nm) == len(made.spectrum.reflectance) == 36
    assert [p.parts for p in made.parts] == [1.0, 1.0, 4.0]


def test_a_mixture_rests_on_its_least_measured_paint(shelf: Shelf) -> None:
    made = mix([shelf.term(t) for t in ("PY3", "PB29")], [1, 1])
    assert made.basis == "modelled"


def test_a_thin_film_shows_its_ground(shelf: Shelf) -> None:
    glaze = [shelf.term("PY150")]
    over = {g: mix(glaze, [1], "thin", g).colour.lab[0] for g in ("white", "#804020", "black")}
    assert over["white"] > over["#804020"] > over["black"]


def test_a_wrong_film_ground_or_part_is_told(shelf: Shelf) -> None:
    white = [shelf.term("PW6")]
    with pytest.raises(UserError, match="opaque or thin"):
        mix(white, [1], film="medium")
    with pytest.raises(UserError, match="a ground is"):
        mix(white, [1], "thin", "beige")
    with pytest.raises(UserError, match="above 0"):
        mix(white, [0])


@pytest.mark.parametrize("lab", [(50, 0, 0), (40, 50, 30), (80, -30, 60), (30, 20, -50)])
def test_the_smooth_reflectance_shows_the_colour_it_was_made_for(
    lab: tuple[float, float, float],
) -> None:
    R = smooth_reflectance(lab)
    assert R.min() >= 0.005 and R.max() <= 0.995
    np.testing.assert_allclose(lab_from_reflectance(R), lab, atol=0.3)


def test_a_card_may_be_told_by_what_it_reads() -> None:
    np.testing.assert_allclose(ground_reflectance("80%"), ground_reflectance("white"))
    assert ground_reflectance("60%").max() < ground_reflectance("80%").max()
    for odd in ("120%", "-3%", "pale%"):
        with pytest.raises(UserError, match="between 0% and 100%"):
            ground_reflectance(odd)


def test_named_grounds_are_flat() -> None:
    assert np.ptp(ground_reflectance("white")) == 0.0
    assert ground_reflectance("black").max() < 0.05


def test_a_mixture_shows_itself_in_a_notebook(shelf: Shelf) -> None:
    made = mix([shelf.term("PB29")], [1])
    assert made.colour.hex in made._repr_html_()


def test_paint_in_water_is_a_wash_on_paper_and_without_water_a_wash_is_neat(shelf: Shelf) -> None:
    """Common practice, no source."""
    blue, water = shelf.pigment("PB29"), shelf.term(WATER_NAME)
    middle = mix([blue, water], [1.0, 6.0])
    assert (middle.film, middle.ground) == ("wash", "paper")
    neat, film = mix([blue], [1.0], "wash"), mix([blue], [1.0])
    assert film.film == "opaque"
    assert film.colour.lab[0] < neat.colour.lab[0] < middle.colour.lab[0]
    in_tube = Shelf(WATERCOLOUR).tube(WATERCOLOUR[8])
    assert in_tube is not None and mix([in_tube], [1.0]).film == "wash"
    with pytest.raises(UserError, match="opaque or thin, or on paper a wash"):
        mix([blue], [1.0], "puddle")
