"""Prices of several currencies are not compared as bare numbers."""

from __future__ import annotations

from math import inf

from tubewise.advice.classroom.shopping import buy_for
from tubewise.advice.currency import compared, usual_currency
from tubewise.paints.shelf import Shelf
from tubewise.pigments.ref import Ref
from tubewise.tubes.supply import Slot
from tubewise.tubes.tube import Tube


def blue(name: str, price: float | None, currency: str) -> Tube:
    return Tube(id=name, name=name, label="PB29", size_ml=60, price=price, currency=currency)


TUBES = (blue("A", 7.0, "EUR"), blue("B", 8.0, "EUR"), blue("C", 5.0, "CHF"), blue("D", None, ""))


def test_the_usual_currency_is_that_of_most_prices() -> None:
    assert usual_currency(TUBES) == "EUR"
    assert usual_currency([TUBES[0], TUBES[2]]) == "CHF"
    assert usual_currency([TUBES[3]]) == ""


def test_only_prices_in_it_are_ordered_by() -> None:
    assert [compared(t.price, t.currency, "EUR") for t in TUBES] == [7.0, 8.0, inf, inf]


def test_a_smaller_number_of_another_currency_is_not_cheaper() -> None:
    slot = Slot("Blue", (frozenset({Ref("PB29")}),))
    buy = buy_for(slot, TUBES, Shelf(TUBES))
    assert buy is not None and buy.tube == "A"
    assert buy_for(slot, TUBES[2:], Shelf(TUBES)) is not None
