"""What a slot asks for is one paint, whoever owns whatever."""

from __future__ import annotations

from tests.doors.conftest import Doors
from tubewise.advice.classroom.check import check
from tubewise.advice.classroom.handout import handout


def test_the_list_page_shows_the_paint_that_the_check_asks_for(doors: Doors) -> None:
    # A seat owns a Spring Green with a dark swatch; the catalogue's is the one that is meant.
    slots = check(doors.workshop).seats[0].slots
    page = doors.page("/class/list")
    for slot in slots:
        assert slot.asked_strip.tints[0] in page, slot.slot


def test_the_hand_out_shows_it_too(doors: Doors) -> None:
    asked = [slot.asked for slot in check(doors.workshop).seats[0].slots]
    assert [slot.colour for slot in handout(doors.workshop).slots] == asked
