"""What a list asks for may not last for pictures that are sold (common practice, no source)."""

from __future__ import annotations

import pytest

from tubewise.advice.classroom.check import check
from tubewise.advice.classroom.handout import handout
from tubewise.advice.classroom.verdicts import Verdict
from tubewise.advice.classroom.workshop import Workshop
from tubewise.pigments.purpose import SALE
from tubewise.pigments.ref import Ref
from tubewise.tubes.supply import Slot, SupplyList
from tubewise.tubes.tube import Box, Tube


def tube(name: str, label: str) -> Tube:
    return Tube(id=name, maker="Fenwick", name=name, label=label, medium="oil", grade="artist")


CRIMSON, ROSE = tube("Alizarin Crimson", "PR83"), tube("Rose", "PV19 gamma")
BLUE = tube("Ultramarine", "PB29")


def class_of(*accept: str) -> Workshop:
    slot = Slot("Crimson", tuple(frozenset({Ref(code)}) for code in accept), "oil")
    blue = Slot("Blue", (frozenset({Ref("PB29")}),), "oil")
    boxes = (Box("1", (CRIMSON, BLUE)), Box("2", (BLUE,)))
    return Workshop(SupplyList("Roses", (slot, blue)), boxes, (CRIMSON, ROSE), purpose=SALE)


@pytest.fixture(scope="module")
def fading() -> Workshop:
    return class_of("PR83")


def test_the_right_pigment_that_fades_is_not_called_a_wrong_one(fading: Workshop) -> None:
    slot = check(fading).seats[0].slots[0]
    assert slot.verdict == Verdict.MISSING
    assert "PR83 (alizarin crimson) is III in oil" in slot.reasons[0]


def test_nobody_is_sent_to_buy_what_fades(fading: Workshop) -> None:
    answer = check(fading)
    for seat in answer.seats:
        assert seat.slots[0].buy is None
        assert "agree on another paint" in seat.slots[0].do
    messages = {standing.message for standing in answer.summary.standings}
    assert messages == {"ask me what to bring for Crimson (PR83 does not last)"}
    assert handout(fading).slots[0].unfit.startswith("PR83 does not last for pictures for sale")


def test_of_several_pigments_those_that_last_are_asked_for() -> None:
    answer = check(class_of("PR83", "PV19/gamma"))
    assert answer.seats[1].slots[0].asks == ("PV19/gamma",)
    assert "PV19/gamma" in answer.summary.standings[1].message
    assert "PR83" not in answer.summary.standings[1].message
