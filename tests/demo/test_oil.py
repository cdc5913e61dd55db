"""The oil class for sale through the whole check. Expected answers: common practice, no source."""

from __future__ import annotations

import pytest

from tubewise.advice.classroom.check import ClassCheck
from tubewise.advice.classroom.slot_verdict import SlotVerdict
from tubewise.advice.classroom.verdicts import VERDICTS
from tubewise.demo.workshop import opened, run
from tubewise.pigments.permanence import lasting, lightfastness

RIGHT, STAND_IN, FORM, MIX, WRONG, MISSING = VERDICTS
WORKSHOP = opened("oil")
SLOTS = tuple(slot.slot for slot in WORKSHOP.supply.slots)

# What a teacher may say of each seat's slots, the rest being right pigments; see its README.md.
EXPECTED: dict[str, dict[str, set[str]]] = {
    "1": {},
    "2": {"Lead white": {MISSING}, "Rose": {MISSING}},
    "3": {
        "Titanium white": {STAND_IN},
        "Lead white": {MISSING},
        "Cadmium lemon": {STAND_IN},
        "Cadmium red": {MIX},
        "Prussian blue": {STAND_IN},
        "Viridian": {MIX},
        "Burnt sienna": {STAND_IN},
    },
    "4": {},
    "5": {slot: {MISSING} for slot in SLOTS},
    "6": {},
    "7": {
        "Lead white": {MISSING},
        "Cadmium lemon": {MISSING},
        "Cadmium red": {MISSING},
        "Rose": {MISSING},
        "Prussian blue": {MISSING},
        "Viridian": {MIX},
        "Burnt sienna": {MISSING},
        "Raw umber": {MISSING},
        "Ivory black": {MISSING},
    },
    "8": {slot: {FORM} for slot in SLOTS},
}


@pytest.fixture(scope="module")
def answer() -> ClassCheck:
    return run(workshop="oil")


def slot_at(answer: ClassCheck, seat: str, slot: str) -> SlotVerdict:
    found = next(s for s in answer.seats if s.seat == seat)
    return next(s for s in found.slots if s.slot == slot)


def test_twelve_slots_for_sale_and_one_that_must_dry_fast() -> None:
    supply = WORKSHOP.supply
    assert (len(supply.slots), len(supply.mixes), len(WORKSHOP.boxes)) == (12, 5, 8)
    assert {slot.purpose.at_least for slot in supply.slots if slot.purpose} == {"II"}
    assert [slot.slot for slot in supply.slots if slot.handling] == ["Raw umber"]


@pytest.mark.slow
@pytest.mark.parametrize("seat", EXPECTED)
def test_each_seat_is_judged_as_a_teacher_would(answer: ClassCheck, seat: str) -> None:
    for slot in SLOTS:
        verdict = slot_at(answer, seat, slot).verdict
        assert verdict in EXPECTED[seat].get(slot, {RIGHT}), (slot, verdict)


@pytest.mark.slow
def test_nothing_that_fades_is_mixed_or_bought(answer: ClassCheck) -> None:
    parts = [p for s in answer.seats for x in s.slots if x.recipe for p in x.recipe.parts]
    bought = [line.buy for line in answer.summary.shopping.lines]
    for pigments in (*(part.pigments for part in parts), *(buy.pigments for buy in bought)):
        refs = [ref for ref in pigments if ref[0] == "P"]
        assert lasting(lightfastness([ref.split(" ")[0] for ref in refs], "oil")), pigments


@pytest.mark.slow
def test_zinc_is_no_lead_white_and_it_is_said_why(answer: ClassCheck) -> None:
    first = slot_at(answer, "2", "Lead white").reasons[0]
    assert first.startswith("Thornquay Longshore Zinc White has the colour, but makes a brittle")


@pytest.mark.slow
def test_water_mixable_oil_mixes_with_oil_and_that_is_said(answer: ClassCheck) -> None:
    said = " ".join(slot_at(answer, "6", "Ultramarine").reasons)
    assert "water-mixable oil" in said and "mixes with" in said
