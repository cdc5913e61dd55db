"""The hand-out judges every tube of the shop as the class check judges it in a box."""

from __future__ import annotations

from tests.advice.classroom.meadow import CATALOGUE, LIST, check
from tests.invented import tube
from tubewise.advice.classroom.handout import SlotSheet, handout
from tubewise.advice.classroom.workshop import Workshop
from tubewise.tubes.tube import Box

ODD = tube("Lemon", "PB29", maker="Millrace", swatch_lab=(85.0, -5.0, 80.0))
WEAK = tube("White", "PW6", line="Study", grade="student", swatch_lab=(96.9, -0.5, 0.8))
BARE = tube("Quinacridone", "PV19", maker="Millrace")
MISNAMED = tube("Permanent Rose", "PR209", maker="Millrace")


def sheets() -> dict[str, SlotSheet]:
    answer = handout(Workshop(LIST, catalogue=(*CATALOGUE, ODD, WEAK, BARE, MISNAMED)))
    return {sheet.slot.slot: sheet for sheet in answer.slots}


def test_each_tube_is_named_where_the_check_would_put_it() -> None:
    slots = sheets()
    boxes = [Box(t.id, (t,)) for t in (ODD, WEAK, BARE, MISNAMED)]
    seats = check(LIST, boxes, (*CATALOGUE, ODD, WEAK, BARE, MISNAMED)).seats
    verdicts = {seat.seat: {s.slot: s.verdict for s in seat.slots} for seat in seats}
    assert verdicts[ODD.id]["Blue"] == "check the form"
    assert [c.title for c in slots["Blue"].beware] == [ODD.title]
    assert "contradict each other" in slots["Blue"].beware[0].words
    assert verdicts[WEAK.id]["White"] == "right pigment"
    assert not slots["White"].unclear and not slots["White"].beware
    assert verdicts[BARE.id]["Rose"] == "check the form"
    assert [c.title for c in slots["Rose"].unclear] == [BARE.title]
    assert verdicts[MISNAMED.id]["Rose"] == "wrong pigment behind the name"
    assert MISNAMED.title in [c.title for c in slots["Rose"].beware]
