"""In what a lesson's slots are judged. Common practice, no source."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.refs import parts, refs
from tubewise.advice.classroom.mix_report import Strengths, mix_report
from tubewise.advice.classroom.standard import standards
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.paints.wash import WATER_NAME
from tubewise.tubes.supply import KeyMix, Slot, SupplyList

SHELF = Shelf()


def _list(medium: str, *slots: str) -> SupplyList:
    asked = tuple(Slot(slot=ref, accept=(refs(ref),), medium=medium) for ref in slots)
    mix = KeyMix(mix="Dusk", parts=parts(("PB29", 2), ("PR108", 1)))
    return SupplyList(name="Evening", slots=asked, mixes=(mix,))


@pytest.mark.parametrize(
    ("medium", "slots", "paler_with"),
    [
        ("oil", ("PB29", "PR108", "PW1", "PW4"), "PW1"),
        ("oil", ("PB29", "PR108", "PW4"), "PW4"),
        ("oil", ("PB29", "PR108"), "PW6"),
        ("acrylic", ("PW6", "PB29", "PR108"), "PW6"),
        ("watercolour", ("PW4", "PB29", "PR108"), WATER_NAME),
    ],
)
def test_slots_are_judged_in_the_first_white_that_the_list_asks_for_and_washes_in_water(
    medium: str, slots: tuple[str, ...], paler_with: str
) -> None:
    for standard in standards(_list(medium, *slots), SHELF, ()):
        assert standard.setting.lightener.name == paler_with


def test_a_key_mix_in_watercolour_is_a_middle_wash_and_in_oil_as_it_is_told() -> None:
    for medium, laid in (("watercolour", (1.0, 18.0)), ("oil", (1.0,))):
        blue = standards(_list(medium, "PB29", "PR108"), SHELF, ())[0]
        assert blue.companies[0].parts == laid


def test_a_handling_that_its_medium_does_not_know_is_refused() -> None:
    slot = Slot(
        slot="Blue", accept=(refs("PB28"),), medium="oil", extra={"handling": "granulating"}
    )
    with pytest.raises(UserError, match="a wish for watercolour and gouache"):
        standards(SupplyList(name="Evening", slots=(slot,)), SHELF, ())


def test_a_mix_that_names_its_water_is_laid_so() -> None:
    asked = _list("watercolour", "PB29", "PR108")
    (mix,) = asked.mixes
    pale = replace(asked, mixes=(replace(mix, water=60),))
    (blue, _), (paler, _) = (standards(one, SHELF, ()) for one in (asked, pale))
    assert blue.companies[0].parts == (1.0, 18.0) and paler.companies[0].parts == (1.0, 60.0)
    strong, thin = (
        mix_report(one.mixes[0], asked.slots, [], Strengths(shelf=SHELF, setting=blue.setting))
        for one in (asked, pale)
    )
    assert thin.colour.lab[0] > strong.colour.lab[0] + 10.0
    assert thin.parts == "2 PB29 + 1 PR108 + 60 water"


def test_water_has_no_place_in_a_lesson_of_oils() -> None:
    asked = _list("oil", "PB29", "PR108")
    wet = replace(asked, mixes=(replace(asked.mixes[0], water=6),))
    with pytest.raises(UserError, match="leave the water out"):
        standards(wet, SHELF, ())
