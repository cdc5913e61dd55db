"""What else is said of a seat's box."""

from __future__ import annotations

from tests.advice.classroom.meadow import (
    CATALOGUE,
    LIST,
    RED,
    ROSE,
    check,
    run,
    seat,
)
from tubewise.tubes.supply import Slot, SupplyList
from tubewise.tubes.tube import Box


def test_cautions_of_what_is_in_the_box_come_along() -> None:
    assert "cadmium" in {c.kind for c in seat(RED)["Cadmium red"].cautions}


def test_one_tube_for_two_slots_is_remarked() -> None:
    again = Slot("Rose again", LIST.slots[0].accept)
    twice = SupplyList("Twice", (LIST.slots[0], again), ())
    (one,) = check(twice, [Box("1", (ROSE,))], CATALOGUE).seats
    assert any("has to serve for Rose and Rose again" in r for r in one.remarks)


def test_a_seat_gathers_its_cautions_with_their_slots() -> None:
    (one,) = run(RED).seats
    assert any(c.startswith("Cadmium red: ") and "safety data sheet" in c for c in one.cautions)
