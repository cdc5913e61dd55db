"""Watercolour as watercolour: washes with water. Expected answers: common practice, no source."""

from __future__ import annotations

import pytest

from tests.advice.shops import WATERCOLOUR, named
from tubewise.advice.recipes.from_tubes import AtHand, batch_from, recipes_from
from tubewise.advice.recipes.results import Recipe, Recipes
from tubewise.advice.recipes.target import target
from tubewise.advice.recipes.wishes import Wishes
from tubewise.colour.lab import lch_from_lab
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


def _paints(recipe: Recipe) -> int:
    return sum(part.tube != WATER_NAME for part in recipe.parts)


@pytest.mark.slow
@pytest.mark.parametrize("aim", ["#9fc3e0", "#8d9096", "#7f9a5a", "#d9c29a", "#c98f7a"])
def test_the_first_answer_holds_no_paint_more_than_another_that_does(aim: str) -> None:
    """A sky, a grey, a leaf, sand and skin in shade."""
    answer = _from(aim)
    do = [recipe for recipe in answer.recipes if recipe.delta_e00 <= 2.0]
    assert _paints(answer.recipes[0]) <= min(map(_paints, do), default=3)


@pytest.mark.slow
def test_a_list_of_targets_is_answered_in_washes_too() -> None:
    at_hand = AtHand(tubes=WATERCOLOUR, shelf=SHELF)
    aims = [target(aim, SHELF) for aim in ("#c9b8e8", "#9fc3e0")]
    for line in batch_from(aims, at_hand, 3, 16).lines:
        parts = {part.tube: part.parts for part in line.recipe.parts}
        assert parts[WATER_NAME] > sum(n for tube, n in parts.items() if tube != WATER_NAME)
        assert WHITE not in parts and line.recipe.delta_e00 < 5.0


@pytest.mark.slow
def test_a_pigment_is_wanted_from_a_watercolour_box_as_a_wash() -> None:
    answer = _from("PB15:3")
    assert answer.target.lab[0] > 35.0
    assert answer.recipes[0].delta_e00 < 4.0


def test_a_watercolour_tube_is_wanted_as_a_strong_wash() -> None:
    tube = named(WATERCOLOUR, "Phthalo Blue")
    assert target(tube.id, SHELF).lab[0] > 1.3 * target("PB15:3", SHELF).lab[0]


@pytest.mark.slow
@pytest.mark.parametrize("aim", ["lab:55,80,-10", "lab:60,-70,40"])
def test_out_of_reach_a_wash_keeps_the_hue(aim: str) -> None:
    """A hot magenta and a glaring green from a box of earths, a dull blue and a violet."""
    few = ("Yellow Ochre", "Burnt Sienna", "Cerulean", "Dioxazine Violet")
    tubes = tuple(tube for tube in WATERCOLOUR if tube.name in few)
    answer = recipes_from(target(aim, SHELF), AtHand(tubes=tubes, shelf=SHELF))
    goal, seen = (lch_from_lab(c.lab) for c in (answer.target, answer.recipes[0].colour))
    assert abs((seen[2] - goal[2] + 180.0) % 360.0 - 180.0) < 20.0 and seen[1] > 8.0
    held = "no paint here reaches it; the strongest of this hue is"
    assert answer.words.startswith((held, "out of reach"))
    assert (answer.recipes[0].kind == "hue held") == answer.words.startswith(held)


@pytest.mark.slow
def test_the_wash_that_keeps_the_hue_is_one_somebody_would_mix() -> None:
    tubes = tuple(t for t in WATERCOLOUR if t.name in ("Burnt Sienna", "Dioxazine Violet"))
    answer = recipes_from(target("lab:55,80,-10", SHELF), AtHand(tubes=tubes, shelf=SHELF))
    first = answer.recipes[0]
    assert first.kind == "hue held" and "paint : " in first.mixture
    assert sum(p.parts for p in first.parts if p.tube != WATER_NAME) <= 9
