"""The recipe that is named first. Expected answers: common practice, no source."""

from __future__ import annotations

import pytest

from tests.advice.shops import OIL
from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
from tubewise.advice.recipes.results import Recipes
from tubewise.advice.recipes.target import target
from tubewise.colour.lab import lch_from_lab
from tubewise.paints.shelf import Shelf
from tubewise.tubes.tube import Tube

SHELF = Shelf(OIL)
STUDENT = tuple(
    t
    for t in OIL
    if t.name in ("Titanium White", "Ultramarine", "Lemon Yellow", "Cadmium Red", "Burnt Sienna")
)


def _from(tubes: tuple[Tube, ...], aim: str) -> Recipes:
    return recipes_from(target(aim, SHELF), AtHand(tubes=tubes, shelf=SHELF))


EVERYDAY = {
    "sky": "#9fc3e0",
    "skin in shade": "#a8775f",
    "leaf": "#5f7f3a",
    "grey": "#8d9096",
    "brick": "#9c4a3c",
    "sand": "#d9c29a",
}


@pytest.mark.slow
@pytest.mark.parametrize("name", EVERYDAY)
def test_no_more_than_three_paints_where_two_come_within_two(name: str) -> None:
    answer = _from(OIL, EVERYDAY[name])
    first = answer.recipes[0]
    few = [r for r in answer.recipes if len(r.parts) <= 2 and r.delta_e00 <= 2.0]
    assert len(first.parts) <= 3
    if few:
        assert len(first.parts) <= 2
    if first.kind == "simplest":
        assert "beside the nearest recipe" in first.words
        assert first.delta_e00 <= max(2.0, answer.nearest.delta_e00 + 1.0) + 0.01


@pytest.mark.slow
def test_parts_that_can_be_counted_come_first() -> None:
    first = _from(OIL, EVERYDAY["brick"]).recipes[0]
    assert sum(p.parts for p in first.parts) <= 9


@pytest.mark.slow
def test_a_hot_magenta_from_a_students_box_is_no_grey() -> None:
    """Nearest in CIEDE2000 is a grey turned by a hundred degrees: true and useless."""
    magenta = "lab:55,80,-10"
    answer = _from(STUDENT, magenta)
    first = answer.recipes[0]
    assert first.kind == "hue held"
    goal, seen = lch_from_lab([55.0, 80.0, -10.0]), lch_from_lab(first.colour.lab)
    turn = abs((seen[2] - goal[2] + 180.0) % 360.0 - 180.0)
    assert turn < 20.0 and seen[1] > 8.0
    assert answer.words.startswith("no paint here reaches it; the strongest of this hue is")
    assert "fluoresces" not in answer.words or "only one that fluoresces could" in answer.words


def test_a_colour_out_of_reach_that_keeps_its_hue_needs_no_other_answer() -> None:
    answer = _from(STUDENT, "lab:60,60,60")
    assert answer.recipes[0].kind != "hue held"


@pytest.mark.slow
def test_sold_out_tubes_are_not_mixed_from_unless_asked() -> None:
    gone = tuple(t for t in OIL if t.name != "Ultramarine")
    sold_out = _sold_out(next(t for t in OIL if t.name == "Ultramarine"))
    tubes = (*gone, sold_out)
    answer = recipes_from(target("#3a3f9a", Shelf(tubes)), AtHand(tubes=tubes, shelf=Shelf(tubes)))
    assert all(part.tube != sold_out.id for one in answer.recipes for part in one.parts)
    assert (sold_out.id, "sold out") in {(t.tube, t.why) for t in answer.left_out}


def _sold_out(tube: Tube) -> Tube:
    from dataclasses import replace

    return replace(tube, stock=0)
