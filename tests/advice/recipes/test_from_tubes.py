"""One question about the tubes at hand, however it is asked."""

from __future__ import annotations

import pytest

from tests.advice.recipes.six_tubes import TUBES
from tests.invented import tube
from tubewise.advice.recipes.from_tubes import AtHand, mixable, on_sale, recipes_from
from tubewise.advice.recipes.results import left_out_words
from tubewise.advice.recipes.target import target
from tubewise.advice.recipes.wishes import Wishes
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf

OIL = tube("Oil Blue", "PB29", medium="oil")
BLANK = tube("Old Rose", "")
MIXED = (*TUBES, OIL, BLANK)
SHELF = Shelf(MIXED)


def test_a_mixed_box_is_answered_in_the_medium_asked_for_and_says_what_it_leaves_out() -> None:
    at_hand = AtHand(tubes=MIXED, shelf=SHELF, medium="acrylic")
    answer = recipes_from(target("lab:70,-30,30", SHELF), at_hand, 3, 12)
    assert answer.medium == "acrylic"
    assert left_out_words(answer.left_out) == (
        "left out, oil does not mix with acrylic: Oakfen Fenland Oil Blue",
        "left out, no pigment declared: Oakfen Fenland Old Rose",
    )


def test_what_was_wished_away_is_said_and_a_tube_that_is_not_mixed_from_may_be_named() -> None:
    at_hand = AtHand(tubes=MIXED, shelf=SHELF, medium="acrylic")
    wishes = Wishes(must_not=("cadmium", "Oil Blue", "Old Rose"))
    answer = recipes_from(target("lab:70,-30,30", SHELF), at_hand, 3, 12, wishes)
    assert "left out, as was wished: Oakfen Fenland Cadmium Red" in " ".join(
        left_out_words(answer.left_out)
    )


def test_oil_and_water_mixable_oil_are_one_box() -> None:
    oils = [tube("White", "PW6", medium="water-mixable oil"), OIL]
    may = mixable(AtHand(tubes=oils, shelf=Shelf(oils)))
    assert may.medium == "oil" and len(may.paints) == 2


def test_watercolour_and_gouache_are_one_box() -> None:
    gums = [tube("White", "PW6", medium="gouache"), tube("Blue", "PB29", medium="watercolour")]
    assert len(mixable(AtHand(tubes=gums, shelf=Shelf(gums))).paints) == 2


def test_a_wish_that_means_nothing_is_an_error() -> None:
    at_hand = AtHand(tubes=TUBES, shelf=SHELF)
    with pytest.raises(UserError, match="nonsense"):
        recipes_from(target("lab:70,-30,30", SHELF), at_hand, wishes=Wishes(must_not=("nonsense",)))


def test_a_mixed_box_without_a_medium_is_refused() -> None:
    with pytest.raises(UserError, match="do not mix"):
        recipes_from(target("lab:70,-30,30", SHELF), AtHand(tubes=MIXED, shelf=SHELF))


def test_the_wanted_paint_is_not_mixed_from_itself() -> None:
    may = mixable(AtHand(tubes=TUBES, shelf=SHELF), wanted=TUBES[0])
    assert len(may.paints) == len(TUBES) - 1
    assert [(t.tube, t.why) for t in may.left_out] == [(TUBES[0].id, "the wanted paint itself")]


def test_a_gap_is_filled_with_artist_paint_in_stock() -> None:
    shop = [
        tube("Fine Violet", "PV23"),
        tube("Sold Out", "PV23", stock=0),
        tube("Study Violet", "PV23", grade="student"),
        OIL,
    ]
    sold = on_sale(shop, "acrylic", Shelf(shop))
    assert [p.name for p in sold] == ["Oakfen Fenland Fine Violet"]
