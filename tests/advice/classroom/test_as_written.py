"""Boxes written as people write them get the verdict of what they own, and nobody buys it twice."""

from __future__ import annotations

import pytest

from tests.invented import tube
from tubewise.advice.classroom.check import ClassCheck, check
from tubewise.advice.classroom.workshop import Workshop
from tubewise.tubes.cell_of_tubes import tube_of_words
from tubewise.tubes.supply import Slot, SupplyList, read_accept
from tubewise.tubes.tube import Box, Tube

SHOP = (
    tube("Ultramarine", "PB29"),
    tube("Lemon Yellow", "PY3"),
    tube("Titanium White", "PW6"),
)
LIST = SupplyList(
    "Fen",
    (
        Slot("Ultramarine", read_accept("PB29"), "acrylic"),
        Slot("Lemon yellow", read_accept("PY3"), "acrylic"),
        Slot("White", read_accept("PW6"), "acrylic"),
    ),
    (),
)


def checked(*tubes: Tube) -> ClassCheck:
    return check(Workshop(LIST, [Box("1", tubes)], SHOP))


def verdicts(answer: ClassCheck) -> list[str]:
    return [slot.verdict for slot in answer.seats[0].slots]


@pytest.mark.parametrize(
    "own",
    [
        Tube(name="PB29"),
        Tube(name="Ultramarine PB29"),
        Tube(label="PB29"),
        Tube(name="ult", label="pb 29"),
        Tube(name="PB29 acrylic"),
    ],
)
def test_a_code_in_either_column_is_the_right_pigment(own: Tube) -> None:
    answer = checked(own)
    assert verdicts(answer)[0] == "right pigment"
    assert all("Ultramarine" not in line.buy.title for line in answer.summary.shopping.lines)


def test_names_short_and_misspelt_wait_on_the_tube_and_are_not_bought() -> None:
    answer = checked(*map(tube_of_words, ("ult", "lemon yelow", "TW")))
    assert verdicts(answer) == ["check the form"] * 3
    assert answer.summary.shopping.lines == ()
    reasons = " ".join(r for slot in answer.seats[0].slots for r in slot.reasons)
    assert "PB29 in 1 of 1 tube of that name here" in reasons and "PY3" in reasons


def test_of_a_set_one_is_asked_what_lies_in_it() -> None:
    answer = checked(tube_of_words("12-color set"))
    assert verdicts(answer) == ["check the form"] * 3
    assert answer.summary.shopping.lines == ()
    assert "tell me what lies in your 12-color set" in answer.summary.standings[0].message


def test_a_short_name_of_the_medium_is_that_medium() -> None:
    watercolour = SupplyList("Fen", (Slot("Blue", read_accept("PB29"), "watercolour"),), ())
    own = Box("1", (tube_of_words("Ultramarine wc PB29"),))
    answer = check(Workshop(watercolour, [own], SHOP))
    assert answer.seats[0].slots[0].verdict == "right pigment"


def test_what_was_understood_stands_with_the_answer() -> None:
    answer = checked(tube_of_words("lemon yelow"))
    (line,) = answer.seats[0].read.doubtful
    assert line.written == "lemon yelow" and "read as lemon yellow" in line.doubt
