"""What to buy for a slot, and one list for a class."""

from __future__ import annotations

from tests.advice.classroom.meadow import (
    BLUE,
    check,
    run,
)
from tests.invented import tube
from tests.refs import refs
from tubewise.advice.classroom.shopping import Buy, shopping_list
from tubewise.tubes.supply import Slot, SupplyList
from tubewise.tubes.tube import Box


def test_an_empty_box_misses_everything_and_the_list_prices_it() -> None:
    answer = run()
    assert {s.verdict for s in answer.seats[0].slots} == {"missing"}
    lines = {line.buy.title: line for line in answer.summary.shopping.lines}
    # The convenience green is out of stock: said, not bought.
    assert len(lines) == 4
    assert answer.summary.shopping.totals == (("EUR", 8.0 + 8.0 + 8.0 + 15.0),)
    spring = answer.seats[0].slots[3]
    assert spring.buy is None and "none in stock" in spring.do


def test_small_tubes_are_bought_as_often_as_it_takes() -> None:
    small = tube("Titanium White", "PW6", size_ml=25.0, price=3.0, stock=2)
    slots = (Slot("White", (refs("PW6"),), "acrylic", 60),)
    answer = check(SupplyList("W", slots, ()), [Box("1", ())], (small,))
    (line,) = answer.summary.shopping.lines
    assert (line.count, line.cost, line.short) == (3, 9.0, 1)


def test_a_tube_whose_swatch_contradicts_it_is_not_bought_while_others_are_to_be_had() -> None:
    odd = tube("Cheap Blue", "PB29", maker="Millrace", price=1.0, swatch_lab=(85.0, -5.0, 80.0))
    slots = (Slot("Blue", (refs("PB29"),), "acrylic"),)
    asked = SupplyList("Blue", slots, ())
    (one,) = check(asked, [Box("1", ())], (odd, BLUE)).seats
    assert one.slots[0].buy is not None and one.slots[0].buy.title == BLUE.title


def test_one_tube_for_two_slots_is_counted_for_each() -> None:
    def blue(count: int) -> Buy:
        return Buy(
            tube="blue",
            title="Blue",
            pigments=("PB29",),
            grade="",
            size_ml=20.0,
            price=5.0,
            currency="EUR",
            shop="",
            count=count,
        )

    wanted = [("1", blue(3)), ("1", blue(1)), ("2", blue(1))]
    for order in (wanted, wanted[::-1]):
        [line] = shopping_list(order).lines
        assert line.count == 5 and line.cost == 25.0
        assert sorted(line.seats) == ["1", "2"]
