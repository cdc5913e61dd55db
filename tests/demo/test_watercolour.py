"""The watercolour class through the whole check. Expected answers: common practice, no source."""

from __future__ import annotations

import pytest

from tubewise.advice.classroom.check import ClassCheck
from tubewise.advice.classroom.slot_verdict import SlotVerdict
from tubewise.advice.classroom.verdicts import VERDICTS
from tubewise.demo.workshop import opened, run
from tubewise.sheets.class_page import class_page

RIGHT, STAND_IN, FORM, MIX, WRONG, MISSING = VERDICTS
WORKSHOP = opened("watercolour")
SLOTS = tuple(slot.slot for slot in WORKSHOP.supply.slots)
WHITES = {"PW1", "PW4", "PW6"}

# What a teacher may say of each seat's slots, the rest being right pigments; see its README.md.
EXPECTED: dict[str, dict[str, set[str]]] = {
    "1": {},
    "2": {},
    "3": {
        "Transparent yellow": {MIX, MISSING},
        "Quinacridone rose": {FORM},
        "Ultramarine violet": {MISSING},
        "Cobalt blue": {MISSING},
        "Cerulean": {MISSING},
        "Viridian": {MISSING},
        "Sap green": {WRONG},
        "Burnt sienna": {WRONG},
    },
    "4": {
        "Ultramarine violet": {MISSING},
        "Cobalt blue": {MIX},
        "Viridian": {MISSING},
        "Sap green": {MIX},
    },
    "5": {slot: {MISSING} for slot in SLOTS},
    "6": {
        "Quinacridone rose": {MIX},
        "Phthalo blue green shade": {MISSING},
        "Viridian": {MISSING},
        "Sap green": {MIX},
        "Burnt sienna": {WRONG},
    },
    "7": {
        "Lemon yellow": {MISSING},
        "Yellow ochre": {MISSING},
        "Warm red": {MIX},
        "Ultramarine violet": {MISSING},
        "Cobalt blue": {MISSING},
        "Cerulean": {MISSING},
        "Viridian": {MISSING},
        "Sap green": {MISSING},
        "Burnt umber": {MIX},
    },
    "8": {
        "Transparent yellow": {MIX, MISSING},
        "Warm red": {MIX, MISSING},
        "Ultramarine violet": {MISSING},
        "Phthalo blue green shade": {MISSING},
        "Cerulean": {MISSING},
        "Viridian": {MISSING},
        "Sap green": {MISSING},
        "Burnt umber": {FORM},
    },
    "9": {"Sap green": {MIX}},
    "10": {
        "Transparent yellow": {MIX, MISSING},
        "Warm red": {MIX, MISSING},
        "Quinacridone rose": {STAND_IN, MISSING},
        "Ultramarine violet": {MISSING},
        "Phthalo blue green shade": {MISSING},
        "Viridian": {MISSING},
        "Sap green": {MISSING},
        "Burnt umber": {MISSING},
    },
}


def test_fourteen_slots_six_mixes_pans_and_tubes_and_no_white() -> None:
    supply, catalogue = WORKSHOP.supply, WORKSHOP.catalogue
    assert (len(supply.slots), len(supply.mixes), len(WORKSHOP.boxes)) == (14, 6, 10)
    assert {slot.medium for slot in supply.slots} == {"watercolour"}
    assert {word for slot in supply.slots for word in slot.handling} == {
        "granulating",
        "non-staining",
    }
    assert {tube.extra["container"] for tube in catalogue} == {"tube", "half pan"}
    asked = {ref for slot in supply.slots for refs in slot.accept for ref in refs}
    mixed = {ref for mix in supply.mixes for ref, _ in mix.parts}
    assert not WHITES & {ref.code for ref in asked | mixed}


@pytest.fixture(scope="module")
def answer() -> ClassCheck:
    return run(workshop="watercolour")


def slot_at(answer: ClassCheck, seat: str, slot: str) -> SlotVerdict:
    found = next(s for s in answer.seats if s.seat == seat)
    return next(s for s in found.slots if s.slot == slot)


@pytest.mark.slow
@pytest.mark.parametrize("seat", EXPECTED)
def test_each_seat_is_judged_as_a_teacher_would(answer: ClassCheck, seat: str) -> None:
    for slot in SLOTS:
        verdict = slot_at(answer, seat, slot).verdict
        assert verdict in EXPECTED[seat].get(slot, {RIGHT}), (slot, verdict)


@pytest.mark.slow
def test_all_six_verdicts_come_up(answer: ClassCheck) -> None:
    assert {slot.verdict for seat in answer.seats for slot in seat.slots} == set(VERDICTS)


@pytest.mark.slow
def test_no_white_is_mixed_and_nothing_is_judged_in_white_or_over_black(answer: ClassCheck) -> None:
    for seat in answer.seats:
        for slot in seat.slots:
            parts = slot.recipe.parts if slot.recipe else ()
            assert not WHITES & {p for part in parts for p in part.pigments}
            said = " ".join((slot.do, *slot.reasons))
            assert "over black" not in said and "in white" not in said and "a tint" not in said


@pytest.mark.slow
def test_what_is_short_of_two_skies_is_bought(answer: ClassCheck) -> None:
    """A half pan of the right pigment is too little."""
    short = {s.slot for s in answer.seats[1].slots if s.short}
    assert short == {"Ultramarine", "Cobalt blue", "Burnt sienna"}


@pytest.mark.slow
def test_cobalt_is_met_by_two_blues_that_granulate_and_lift(answer: ClassCheck) -> None:
    recipe = slot_at(answer, "4", "Cobalt blue").recipe
    assert recipe is not None
    assert {p for part in recipe.parts for p in part.pigments} == {"PB29", "PB35"}


@pytest.mark.slow
def test_a_colour_that_does_not_handle_as_the_lesson_needs_is_passed_over_and_said(
    answer: ClassCheck,
) -> None:
    said = " ".join(slot_at(answer, "7", "Cerulean").reasons)
    assert "Phthalo Blue Green Shade has the colour, but is not known to be granulating" in said


@pytest.mark.slow
def test_gouache_serves_and_its_veil_is_said(answer: ClassCheck) -> None:
    cobalt = slot_at(answer, "9", "Cobalt blue")
    assert cobalt.verdict == RIGHT
    assert any("gouache makes a wash opaque" in reason for reason in cobalt.reasons)


@pytest.mark.slow
def test_what_fades_is_not_mixed_with_while_what_lasts_will_do(answer: ClassCheck) -> None:
    recipe = slot_at(answer, "7", "Warm red").recipe
    assert recipe is not None
    assert "PR83" not in {p for part in recipe.parts for p in part.pigments}
    assert "fades" in slot_at(answer, "10", "Quinacridone rose").warning


@pytest.mark.slow
def test_key_mixes_are_middle_washes(answer: ClassCheck) -> None:
    """Pale and clear: none as dark as a masstone."""
    assert all(mix.colour.lab[0] > 45.0 for mix in answer.summary.mixes)


@pytest.mark.slow
def test_the_page_of_a_watercolour_class_has_no_black_band(answer: ClassCheck) -> None:
    assert "top:40%" not in class_page(answer).split("</style>")[1]
