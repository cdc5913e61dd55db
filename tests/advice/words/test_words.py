"""The one wording of pigments, prices, sizes, permanence and lists."""

from __future__ import annotations

from tests.invented import tube
from tubewise.advice.words.lists import counted, dotted, seats_text
from tubewise.advice.words.permanence import permanence_text
from tubewise.advice.words.pigments import NOTHING_DECLARED, pigment_text, pigments_text
from tubewise.advice.words.price import price_text, unit_price_text
from tubewise.advice.words.size import size_text


def test_a_form_the_label_says_is_shown_and_one_it_leaves_open_is_said_to_be() -> None:
    assert pigments_text(tube("Rose", "PV19 (rose)").pigments) == "PV19/gamma"
    assert pigments_text(tube("Quinacridone", "PV19").pigments) == "PV19 (form not said)"
    assert pigments_text(tube("Ruby", "PR57, PW6").pigments) == "PR57 (number not said), PW6"


def test_a_code_that_needs_no_form_stands_alone() -> None:
    assert pigment_text("PB29") == "PB29"
    assert pigment_text("PX999") == "PX999"


def test_nothing_declared_says_so_where_there_is_room() -> None:
    assert pigments_text(()) == ""
    assert pigments_text((), NOTHING_DECLARED) == "no pigment declared"


def test_prices_and_sizes_in_either_units() -> None:
    assert price_text(8.149, "EUR") == "8.15 EUR" and price_text(None, "EUR") == ""
    assert size_text(60.0) == "60 ml" and size_text(59.147, "us") == "2.0 fl oz"
    assert unit_price_text(0.1358, "EUR") == "13.58 EUR per 100 ml"
    assert unit_price_text(0.1358, "EUR", "us") == "4.02 EUR a fl oz"
    assert unit_price_text(None, "EUR") == ""


def test_permanence_says_which_way_is_better() -> None:
    assert permanence_text("I") == "I, excellent"
    assert permanence_text("not rated") == "not rated"


def test_counts_and_rows() -> None:
    assert counted(1, "tube") == "1 tube" and counted(1200, "box", "boxes") == "1,200 boxes"
    assert dotted("60 ml", "", "8.15 EUR") == "60 ml · 8.15 EUR"
    assert seats_text(("3",)) == "seat 3" and seats_text(("3", "5")) == "seats 3, 5"
