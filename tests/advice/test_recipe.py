"""Recipes from a box: near the target, in whole parts, with what goes along."""

from __future__ import annotations

import numpy as np
import pytest

from tests.advice.conftest import tube
from tubewise.advice.mixing import appearance
from tubewise.advice.recipe import recipe, special_metamerism
from tubewise.advice.shelf import Shelf
from tubewise.advice.target import target
from tubewise.errors import UserError

TUBES = (
    tube("Titanium White", "PW6"),
    tube("Lemon Yellow", "PY3"),
    tube("Ultramarine", "PB29"),
    tube("Permanent Rose", "PV19 (rose)"),
    tube("Phthalo Green", "PG7"),
    tube("Cadmium Red", "PR108"),
)
SHELF = Shelf(TUBES)
PAINTS = [p for p in map(SHELF.tube, TUBES) if p is not None]


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
    from tubewise.advice.mixing import mix

    made = mix([PAINTS[0], PAINTS[2], PAINTS[3]], [4, 1, 1])
    L, a, b = made.colour.lab
    best = recipe(target(f"lab:{L},{a},{b}", SHELF), PAINTS, 3, 12).recipes[0]
    assert best.delta_e00 < 0.5


def test_out_of_reach_says_which_way_it_misses() -> None:
    answer = recipe(target("lab:60,90,60", SHELF), PAINTS, 3, 12)
    assert "out of reach" in answer.words and "duller" in answer.words


def test_steps_start_light_and_end_with_the_strong_and_tell_the_moves() -> None:
    best = recipe(target("lab:70,-30,30", SHELF), PAINTS, 3, 12).recipes[0]
    assert best.steps[0].startswith("start with")
    assert any("add a little" in step for step in best.steps)


def test_cautions_and_permanence_of_what_is_in_it() -> None:
    only_red = [p for p in PAINTS if p.refs[0].startswith("PR108")]
    best = recipe(target("lab:52,60,45", SHELF), only_red, 1, 1).recipes[0]
    assert best.steps == ("straight from the tube",)
    assert any("cadmium" in c.text.lower() for c in best.cautions)
    assert set(best.metamerism) == {"D50", "A", "FL2", "FL11", "LED-B3"}


def test_a_colour_is_not_metameric_to_itself() -> None:
    R = appearance(PAINTS[2].K[0], PAINTS[2].S[0])
    assert max(special_metamerism(R, R).values()) == pytest.approx(0.0, abs=1e-6)


def test_nothing_to_mix_from_or_senseless_limits_are_told() -> None:
    aim = target("lab:50,0,0", SHELF)
    with pytest.raises(UserError, match="nothing can be mixed"):
        recipe(aim, [])
    with pytest.raises(UserError, match="at least one paint"):
        recipe(aim, PAINTS, 0)
    with pytest.raises(UserError, match="at least one paint"):
        recipe(aim, PAINTS, 3, 2)


def test_it_shows_itself_in_a_notebook() -> None:
    answer = recipe(target("lab:50,0,0", SHELF), PAINTS, 2, 8)
    assert answer.target.hex in answer._repr_html_()
    assert answer.recipes[0].colour.hex in answer.recipes[0]._repr_html_()
    np.testing.assert_allclose(answer.target.lab, (50, 0, 0))
