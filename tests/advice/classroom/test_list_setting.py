"""In what a lesson's slots are judged. Common practice, no source."""

from __future__ import annotations

import pytest

from tests.refs import parts, refs
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
