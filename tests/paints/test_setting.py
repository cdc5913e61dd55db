"""What paint of a medium is judged in. Common practice, no source."""

from __future__ import annotations

import numpy as np
import pytest

from tests.advice.shops import GOUACHE, OIL, WATERCOLOUR
from tests.invented import tube
from tubewise.paints.appearance import Company
from tubewise.paints.shelf import Shelf, swatch_as_shown
from tubewise.paints.wash import WATER_NAME, is_water


@pytest.mark.parametrize(
    ("medium", "paler_with"),
    [("acrylic", "PW6"), ("gouache", "PW6"), ("Aquarell", WATER_NAME), ("", "PW6"), ("oil", "PW6")],
)
def test_watercolour_is_made_paler_with_water_and_all_else_with_white(
    shelf: Shelf, medium: str, paler_with: str
) -> None:
    assert shelf.setting(medium).lightener.name == paler_with


def test_an_oil_painter_mixes_in_the_whites_that_are_there() -> None:
    """Titanium first; without it lead, then zinc."""
    assert Shelf(OIL).setting("oil").lightener.name == "PW6"
    for left, white in ((("PW1", "PW4"), "PW1"), (("PW4",), "PW4")):
        tubes = [t for t in OIL if not t.name.endswith("White") or t.refs[0] in left]
        assert Shelf(tubes).setting("oil").lightener.name == white


def test_a_wash_has_water_and_paper_and_a_white_is_body_colour(shelf: Shelf) -> None:
    washes = shelf.setting("watercolour")
    blue, white = shelf.pigment("PB29"), shelf.pigment("PW4")
    assert washes.judging(blue).in_washes and not washes.judging(white).in_washes
    assert washes.lab_alone(blue)[0][0] > 1.5 * shelf.setting().lab_alone(blue)[0][0]
    # Weaker paint takes less water, never more paint than there is.
    strong = washes.lab_alone(blue, 4.0)[0]
    assert strong[0] < washes.lab_alone(blue)[0][0]


def test_a_mixture_of_the_lesson_is_thinned_to_a_middle_wash(shelf: Shelf) -> None:
    washes = shelf.setting("watercolour")
    mates = Company("Sea", (shelf.pigment("PBr7/burnt-sienna"),), (1.0,), 2.0)
    laid = washes.in_use(mates)
    assert is_water(laid.paints[-1]) and laid.parts == (1.0, 18.0)
    assert washes.in_use(laid) is laid
    assert shelf.setting("oil").in_use(mates).parts == mates.parts


def test_water_by_itself_is_the_white_of_the_paper(shelf: Shelf) -> None:
    water = shelf.term(WATER_NAME)
    assert shelf.setting_for(water).lab_alone(water)[0][0] > 94.0


def test_a_shelf_judges_a_tube_by_its_own_medium() -> None:
    paints = [Shelf(shop).tube(shop[-1]) for shop in (WATERCOLOUR, GOUACHE, OIL)]
    laid = [Shelf().setting_for(p).laid for p in paints if p is not None]
    assert laid == ["wash", "body", "film"]


def test_a_matt_black_is_read_with_the_light_of_its_skin_whatever_the_instrument() -> None:
    """A gloss film without its mirror reflection reads darker than it is shown; a matt one not."""
    for medium, lighter in (("gouache", False), ("acrylic", True)):
        black = tube("Lamp Black", "PBk6", medium=medium, swatch_lab=(24.0, 0.0, 0.0))
        shown = swatch_as_shown(black)
        assert shown is not None
        assert (shown[0] > 27.0) == lighter
        if not lighter:
            np.testing.assert_allclose(shown, [24.0, 0.0, 0.0], atol=1e-6)
