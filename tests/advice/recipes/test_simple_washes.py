"""Washes in parts that can be counted. Expected answers: common practice, no source."""

from __future__ import annotations

from math import gcd

import pytest

from tests.advice.shops import WATERCOLOUR
from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
from tubewise.advice.recipes.results import BARE_PAPER, RecipePart, parts_text
from tubewise.advice.recipes.simple_washes import WATERS
from tubewise.advice.recipes.target import target
from tubewise.advice.recipes.wishes import Wishes
from tubewise.paints.shelf import Shelf
from tubewise.paints.wash import WATER_NAME

SHELF = Shelf(WATERCOLOUR)


@pytest.mark.slow
@pytest.mark.parametrize(
    "aim", ["#9fc3e0", "#8d9096", "#7f9a5a", "#d9c29a", "#c98f7a", "lab:58,14,16", "lab:36,12,16"]
)
def test_paints_are_counted_and_the_puddle_is_thinned(aim: str) -> None:
    first = recipes_from(target(aim, SHELF), AtHand(tubes=WATERCOLOUR, shelf=SHELF)).recipes[0]
    parts = {p.tube: int(p.parts) for p in first.parts}
    water = parts.pop(WATER_NAME, 0)
    total = sum(parts.values())
    assert total <= 9 and gcd(*parts.values()) == 1 and len(parts) <= 3
    assert water / total in WATERS
    if water:
        of = 1 if water % total == 0 else 2
        assert f"{of} paint : {of * water // total} water" in first.mixture
        assert first.steps[-1] == f"thin the {total} with {water} of water"


@pytest.mark.slow
def test_a_brush_that_picks_up_a_third_at_least_gets_as_much() -> None:
    at_hand = AtHand(tubes=WATERCOLOUR, shelf=SHELF)
    wishes = Wishes(smallest_share=0.2)
    first = recipes_from(target("#7f9a5a", SHELF), at_hand, wishes=wishes).recipes[0]
    total = sum(p.parts for p in first.parts)
    assert all(p.parts >= 0.2 * total - 1e-9 for p in first.parts)


@pytest.mark.slow
def test_white_paper_is_left_bare() -> None:
    first = recipes_from(target("lab:94,0,4", SHELF), AtHand(tubes=WATERCOLOUR, shelf=SHELF))
    assert BARE_PAPER in {recipe.mixture for recipe in first.recipes}


def _part(title: str, parts: float) -> RecipePart:
    tube = WATER_NAME if title == WATER_NAME else title
    return RecipePart(tube=tube, title=title, pigments=(), parts=parts)


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ({"water": 12, "Blue": 3, "Umber": 1}, "3 parts Blue + 1 part Umber, 1 paint : 3 water"),
        ({"Blue": 1, "water": 6}, "Blue, 1 paint : 6 water"),
        ({"Blue": 2, "water": 3}, "Blue, 2 paint : 3 water"),
        ({"Blue": 2, "Red": 1, "water": 4}, "4 parts water + 2 parts Blue + 1 part Red"),
        ({"White": 15, "Blue": 1}, "15 parts White + a touch of Blue (1 part)"),
        ({"White": 8, "Blue": 1}, "8 parts White + 1 part Blue"),
        ({"water": 1}, BARE_PAPER),
    ],
)
def test_parts_as_a_painter_says_them(parts: dict[str, float], words: str) -> None:
    assert parts_text([_part(title, n) for title, n in parts.items()]) == words
