"""What the usual slips do to a recipe."""

from __future__ import annotations

from tests.advice.recipes.six_tubes import PAINTS, SHELF
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.target import target


def test_how_sure_counts_the_slips() -> None:
    best = recipe(target("lab:60,25,-20", SHELF), PAINTS, 3, 12).recipes[0]
    assert best.sureness.one_part is not None and best.sureness.one_part > 0.5
    assert best.sureness.ten_percent > 0.0
    assert best.sureness.other_batch > 0.0
