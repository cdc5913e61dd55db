"""Recipes from a box: near the target, in whole parts, with what goes along."""

from __future__ import annotations

import numpy as np
import pytest

from tests.advice.recipes.six_tubes import PAINTS, SHELF, TUBES
from tests.invented import tube
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.target import target
from tubewise.advice.recipes.wishes import Wishes
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf


def test_a_reachable_green_is_mixed_in_whole_parts() -> None:
    answer = recipe(target("lab:70,-30,30", SHELF), PAINTS, max_paints=3, max_parts=30)
    best = answer.recipes[0]
    assert best.delta_e00 < 4.0
    assert all(p.parts == int(p.parts) for p in best.parts)
    assert sum(p.parts for p in best.parts) <= 30
    assert "within reach" in answer.words
    assert best.basis == "modelled"
    assert best.uncertainty.delta_e00_95 > 0.0
    assert answer.search.subsets > 0


def test_a_mixture_of_the_box_comes_back() -> None:
    from tubewise.paints.mixing import mix

    made = mix([PAINTS[0], PAINTS[2], PAINTS[3]], [4, 1, 1])
    L, a, b = made.colour.lab
    best = recipe(target(f"lab:{L},{a},{b}", SHELF), PAINTS, 3, 12).recipes[0]
    assert best.delta_e00 < 0.5


@pytest.mark.slow
def test_two_tubes_of_one_pigment_are_never_mixed_with_each_other() -> None:
    other = tube("Opaque White", "PW6", maker="Brixby", price=1.0)
    shelf = Shelf((*TUBES, other))
    paints = [p for p in map(shelf.tube, (*TUBES, other)) if p is not None]
    for wanted in ("lab:90,5,5", "lab:70,-30,30", "lab:60,40,-20"):
        for one in recipe(target(wanted, shelf), paints, 4, 20).recipes:
            whites = [p for p in one.parts if "White" in p.title]
            assert len(whites) <= 1


def test_out_of_reach_says_which_way_it_misses() -> None:
    answer = recipe(target("lab:60,90,60", SHELF), PAINTS, 3, 12)
    assert "out of reach" in answer.words and "duller" in answer.words


def test_there_is_a_step_for_each_paint() -> None:
    best = recipe(target("lab:70,-30,30", SHELF), PAINTS, 3, 12).recipes[0]
    assert best.steps[0].startswith("start with")
    assert len(best.steps) == len(best.parts)


def test_cautions_and_permanence_of_what_is_in_it() -> None:
    only_red = [p for p in PAINTS if p.refs[0].startswith("PR108")]
    best = recipe(target("lab:52,60,45", SHELF), only_red, 1, 1).recipes[0]
    assert best.steps == ("straight from the tube",)
    assert any("cadmium" in c.text.lower() for c in best.cautions)
    assert set(best.metamerism) == {"D50", "A", "FL2", "FL11", "LED-B3"}


def test_nothing_to_mix_from_or_senseless_limits_are_told() -> None:
    aim = target("lab:50,0,0", SHELF)
    with pytest.raises(UserError, match="nothing can be mixed"):
        recipe(aim, [])
    with pytest.raises(UserError, match="at least one paint"):
        recipe(aim, PAINTS, 0)
    with pytest.raises(UserError, match="at least one paint"):
        recipe(aim, PAINTS, 3, 0)


def test_few_parts_leave_room_for_few_paints() -> None:
    answer = recipe(target("lab:50,0,0", SHELF), PAINTS, 4, 2)
    assert all(sum(p.parts for p in one.parts) <= 2 for one in answer.recipes)


def test_it_shows_itself_in_a_notebook() -> None:
    answer = recipe(target("lab:50,0,0", SHELF), PAINTS, 2, 8)
    assert answer.target.hex in answer._repr_html_()
    assert answer.recipes[0].colour.hex in answer.recipes[0]._repr_html_()
    np.testing.assert_allclose(answer.target.lab, (50, 0, 0))


def test_a_target_without_a_spectrum_is_told() -> None:
    assert not recipe(target("lab:60,0,0", SHELF), PAINTS, 2, 8).spectral
    assert recipe(target("PB29", SHELF), PAINTS, 1, 1).spectral


@pytest.mark.slow
def test_the_miss_is_told_under_the_light_asked_for() -> None:
    aim = target("lab:60,25,-20", SHELF)
    for light in ("A", "FL11"):
        best = recipe(aim, PAINTS, 3, 12, wishes=Wishes(light=light)).recipes[0]
        assert best.light == light
        assert best.delta_e00 == best.by_light[light]
        assert f"under {light})" in best.words
    worst = recipe(aim, PAINTS, 3, 12, wishes=Wishes(light="all")).recipes[0]
    assert worst.delta_e00 == max(worst.by_light.values()) == worst.by_light[worst.light]


def test_nearest_in_spectrum_is_never_out_of_reach_for_its_colour() -> None:
    aim = target("lab:60,90,60", SHELF)
    answer = recipe(aim, PAINTS, 3, 12, wishes=Wishes(light="spectrum"))
    words = answer.words
    assert answer.search.measure == "percent of reflectance"
    assert "out of reach" not in words
    assert "nearest in spectrum; by daylight it misses by CIEDE2000" in words


@pytest.mark.slow
def test_prices_are_added_only_in_one_currency() -> None:
    there = tube("Titanium White", "PW6", currency="GBP")
    shelf = Shelf((there, *TUBES[1:]))
    mixed = [p for p in map(shelf.tube, (there, *TUBES[1:])) if p is not None]
    one, several = (recipe(target("lab:70,-30,30", SHELF), b, 3, 12) for b in (PAINTS, mixed))
    assert one.recipes[0].price_per_ml == pytest.approx(8 / 60, abs=1e-3)
    assert one.recipes[0].currency == "EUR"
    assert several.recipes[0].price_per_ml is None and several.recipes[0].currency == ""
    with pytest.raises(UserError, match="EUR and GBP cannot be compared"):
        recipe(target("lab:70,-30,30", SHELF), mixed, 3, 12, wishes=Wishes(cheaper=True))
