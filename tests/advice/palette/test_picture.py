"""A picture's colours, the tubes for them, and how it looks in what they mix."""

from __future__ import annotations

import numpy as np
import pytest

from tests.advice.palette.shop import box, shop
from tubewise.advice.palette.film import film_for
from tubewise.advice.palette.offer import offer_of
from tubewise.advice.palette.picture import Pixels, colours_of, mixtures, picture, side_by_side
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.hexes import rgb8_from_lab
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf


def striped(*labs: tuple[float, float, float], noise: int = 0) -> Pixels:
    """A picture of upright stripes of these colours, the first the widest."""
    stripes = np.repeat(rgb8_from_lab(np.array(labs)), [120, *([20] * (len(labs) - 1))], axis=0)
    pixels = np.broadcast_to(stripes, (90, *stripes.shape)).astype(int)
    rng = np.random.default_rng(0)
    return np.clip(pixels + rng.integers(-noise, noise + 1, pixels.shape), 0, 255).astype(np.uint8)


GREY, RED, BLUE = (60.0, 0.0, 5.0), (45.0, 50.0, 25.0), (35.0, 5.0, -35.0)


def test_a_pictures_colours_are_found_by_area_and_by_notice() -> None:
    found = colours_of(striped(GREY, RED, BLUE, noise=3), count=3)
    assert found[0].area == pytest.approx(120 / 160, abs=0.01)
    for lab in (GREY, RED, BLUE):
        nearest = min(float(delta_e_2000(lab, colour.colour.lab)) for colour in found)
        assert nearest < 3.0
    red = next(c for c in found if c.colour.lab[1] > 30)
    assert red.noticed > red.area


@pytest.mark.slow
def test_the_tubes_have_its_colours_and_the_picture_shows_it(shelf: Shelf) -> None:
    answer = picture(striped(GREY, RED, BLUE), offer_of(shop(), shelf), shelf, count=3)
    assert answer.proved
    assert not answer.beyond
    assert all(recipe.reached for recipe in answer.recipes)
    assert answer.within_reach > 0.99
    assert answer.before.shape == answer.after.shape
    wide = side_by_side(answer)
    assert wide.shape[1] == 2 * answer.before.shape[1] + 12


@pytest.mark.slow
def test_what_is_out_of_reach_is_named_and_seen(shelf: Shelf) -> None:
    glowing = striped(GREY, (88.0, -80.0, 80.0))
    answer = picture(glowing, offer_of(shop(), shelf), shelf, count=2)
    assert len(answer.beyond) == 1
    assert answer.beyond[0].delta_e00 > 5.0
    assert answer.within_reach == pytest.approx(120 / 140, abs=0.02)
    with pytest.raises(UserError, match="none of the picture's colours"):
        picture(glowing, offer_of(box("PBr7"), shelf), shelf, count=2)


@pytest.mark.slow
def test_a_large_picture_is_shown_smaller(shelf: Shelf) -> None:
    large = np.repeat(np.repeat(striped(GREY, RED), 20, axis=0), 20, axis=1)
    answer = picture(large, offer_of(shop(), shelf), shelf, count=2)
    assert max(answer.after.shape) <= 900


def test_watercolours_mixtures_run_from_paper_to_full_strength(shelf: Shelf) -> None:
    kinds = offer_of(box("PB29", "PY3", medium="watercolour"), shelf).kinds
    labs = mixtures(kinds, film_for("watercolour", shelf), 4000)
    assert labs[:, 0].max() > 92.0
    assert labs[:, 0].min() < 50.0
