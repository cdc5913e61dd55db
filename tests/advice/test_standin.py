"""Stand-ins: the same pigment first, mixtures of its own pigments next, and honest refusals."""

from __future__ import annotations

import pytest

from tests.advice.conftest import tube
from tubewise.advice.shelf import Shelf
from tubewise.advice.standin import standin
from tubewise.errors import UserError

WHITE = tube("Titanium White", "PW6")
LEMON = tube("Lemon Yellow", "PY3")
WARM = tube("Yellow Medium", "PY74")
GREEN = tube("Phthalo Green", "PG7")
SPRING = tube("Spring Green", "PY3, PY74, PG7, PW6", stock=0, swatch_lab=(76.0, -38.0, 60.0))
MAUVE = tube("Mauve", "PV23", line="Study", grade="student", price=4.0)
VIOLET = tube("Dioxazine Violet", "PV23", price=11.0)
OIL = tube("Mauve", "PV23", medium="oil")
ALL = (WHITE, LEMON, WARM, GREEN, SPRING, MAUVE, VIOLET, OIL)


def test_the_same_pigment_in_student_grade_comes_first_with_its_parts() -> None:
    answer = standin(VIOLET, ALL, Shelf(ALL))
    first = answer.standins[0]
    assert first.tube == MAUVE.id
    assert first.identity == "same pigments"
    assert first.parts_for_one == pytest.approx(1.8, abs=0.2)
    assert all(s.tube != OIL.id for s in answer.standins)


def test_a_sold_out_convenience_colour_is_mixed_again_from_its_pigments() -> None:
    answer = standin(SPRING, ALL, Shelf(ALL))
    mixed = [s for s in answer.standins if s.recipe is not None]
    assert mixed and mixed[0].identity == "same pigments"
    assert mixed[0].worst_delta_e00 < 5.0
    assert {p.title for p in mixed[0].recipe.parts} <= {  # type: ignore[union-attr]
        t.title for t in (WHITE, LEMON, WARM, GREEN)
    }
    assert "parts solved from its swatch" in answer.words
    shares = dict(answer.composition)
    assert sum(shares.values()) == pytest.approx(100.0, abs=0.5)


def test_without_a_swatch_its_parts_are_a_starting_guess() -> None:
    blind = tube("Leaf Green", "PY3, PG7", stock=0)
    tubes = (*ALL, blind)
    assert "starting guess" in standin(blind, tubes, Shelf(tubes)).words


def test_nothing_is_offered_where_nothing_comes_near() -> None:
    answer = standin("PR108", (GREEN, WHITE), Shelf((GREEN, WHITE)))
    assert answer.standins == ()
    assert "nothing here stands in" in answer.words


def test_the_unknown_has_no_stand_in() -> None:
    blank = tube("Lilac", "60 ml")
    with pytest.raises(UserError, match="declares no pigments"):
        standin(blank, ALL, Shelf((*ALL, blank)))


def test_price_stock_permanence_and_cautions_come_along() -> None:
    red = tube("Cadmium Red", "PR108", price=15.0)
    other = tube("Cadmium Red", "PR108", price=12.0, maker="Millrace")
    first = standin(red, (other,), Shelf((red, other))).standins[0]
    assert (first.price, first.stock) == (12.0, 3)
    assert any("cadmium" in c.text.lower() for c in first.cautions)
    assert first.lightfastness in ("I", "II", "not rated")
    assert "Cadmium Red" in standin(red, (other,), Shelf((red, other)))._repr_html_()
