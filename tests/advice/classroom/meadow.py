"""A small workshop, Meadow, and how its check is asked for."""

from __future__ import annotations

from tests.invented import tube
from tests.refs import parts, refs
from tubewise.advice.classroom.check import ClassCheck
from tubewise.advice.classroom.check import check as check_workshop
from tubewise.advice.classroom.slot_verdict import SlotVerdict
from tubewise.advice.classroom.workshop import Workshop
from tubewise.tubes.supply import KeyMix, Slot, SupplyList
from tubewise.tubes.tube import Box, Tube

WHITE = tube("Titanium White", "PW6")
ROSE = tube("Permanent Rose", "PV19 (rose)")
BLUE = tube("Ultramarine", "PB29")
LEMON = tube("Lemon Yellow", "PY3")
WARM = tube("Yellow Medium", "PY74")
GREEN = tube("Phthalo Green", "PG7", price=9.0)
SPRING = tube("Spring Green", "PY3, PY74, PG7, PW6", swatch_lab=(72.0, -40.0, 55.0), stock=0)
RED = tube("Cadmium Red", "PR108", price=15.0)
CATALOGUE = (WHITE, ROSE, BLUE, LEMON, WARM, GREEN, SPRING, RED)

LIST = SupplyList(
    "Meadow",
    (
        Slot("Rose", (refs("PV19/gamma"),), "acrylic", 30),
        Slot("Blue", (refs("PB29"),), "acrylic", 30),
        Slot("White", (refs("PW6"),), "acrylic", 60),
        Slot("Spring green", (refs("PY3", "PY74", "PG7", "PW6"),), "acrylic", 0),
        Slot("Cadmium red", (refs("PR108"),), "acrylic", 0),
    ),
    (KeyMix("Heather", parts(("PV19/gamma", 1), ("PB29", 1), ("PW6", 4)), "a clear violet"),),
)


def check(supply: SupplyList, boxes: list[Box], catalogue: tuple[Tube, ...]) -> ClassCheck:
    return check_workshop(Workshop(supply, boxes, catalogue))


def seat(*tubes: Tube) -> dict[str, SlotVerdict]:
    (one,) = run(*tubes).seats
    return {slot.slot: slot for slot in one.slots}


def run(*tubes: Tube) -> ClassCheck:
    return check(LIST, [Box("1", tubes)], CATALOGUE)
