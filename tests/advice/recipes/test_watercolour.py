"""Watercolour as watercolour: washes with water. Expected answers: common practice, no source."""

from __future__ import annotations

import pytest

from tests.advice.shops import WATERCOLOUR, named
from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
from tubewise.advice.recipes.results import Recipes
from tubewise.advice.recipes.target import target
from tubewise.advice.recipes.wishes import Wishes
from tubewise.paints.shelf import Shelf
from tubewise.paints.wash import WATER_NAME

SHELF = Shelf(WATERCOLOUR)
WHITE = named(WATERCOLOUR, "Chinese White").id


def _from(aim: str, wishes: Wishes | None = None) -> Recipes:
    at_hand = AtHand(tubes=WATERCOLOUR, shelf=SHELF)
    return recipes_from(target(aim, SHELF), at_hand, 3, 16, wishes or Wishes())


@pytest.mark.slow
@pytest.mark.parametrize("aim", ["#c9b8e8", "#9fc3e0", "#e8c0a0"])
def test_a_pale_colour_is_a_wash_and_not_a_tint_in_white(aim: str) -> None:
    """A pale violet, a sky and a skin: colour in much water."""
    answer = _from(aim)
    first = answer.recipes[0]
    parts = {p.tube: p.parts for p in first.parts}
    assert parts[WATER_NAME] > sum(v for k, v in parts.items() if k != WATER_NAME)
    assert all(WHITE not in {p.tube for p in one.parts} for one in answer.recipes)
    assert first.delta_e00 < 5.0
    assert len(parts) <= 4


@pytest.mark.slow
def test_white_is_on_the_palette_where_it_is_asked_for() -> None:
    answer = _from("#c9b8e8", Wishes(must=("Chinese White",)))
    assert all(WHITE in {p.tube for p in one.parts} for one in answer.recipes)


@pytest.mark.slow
def test_water_costs_nothing_and_has_no_pigments() -> None:
    first = _from("#9fc3e0").recipes[0]
    water = next(p for p in first.parts if p.tube == WATER_NAME)
    assert water.pigments == () and water.words == WATER_NAME
    paint = min(p.price_per_ml for p in [first] if p.price_per_ml is not None)
    assert 0.0 < paint < 8.0 / 15.0
