"""Which tube from a shop would help."""

from __future__ import annotations

import pytest

from tests.advice.recipes.six_tubes import PAINTS, SHELF
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.target import target


@pytest.mark.slow
def test_what_a_tube_from_the_shop_promises_is_what_it_gives() -> None:
    shop = [p for p in PAINTS if p.refs[0] in ("PY3", "PG7")]
    own = [p for p in PAINTS if p not in shop]
    aim = target("lab:70,-30,30", SHELF)
    answer = recipe(aim, own, 3, 8, shop=shop)
    assert answer.helper is not None
    bought = next(p for p in shop if p.tube is not None and p.tube.id == answer.helper.tube)
    then = recipe(aim, [*own, bought], 3, 8).recipes[0]
    assert then.delta_e00 == pytest.approx(answer.helper.delta_e00, abs=0.02)
    assert f"falls to {then.delta_e00:.1f}" in answer.helper.words
