"""The class check by the rules of the trade. Expected answers: common practice, no source."""

from __future__ import annotations

import pytest

from tests.invented import tube
from tubewise.advice.classroom.check import check
from tubewise.advice.classroom.slot_verdict import SlotVerdict
from tubewise.advice.classroom.workshop import Workshop
from tubewise.pigments.purpose import SALE
from tubewise.tubes.supply import Slot, SupplyList, read_accept
from tubewise.tubes.tube import Box, Tube


def _slot(name: str, accept: str, medium: str = "oil", ml: float = 0.0, purpose: str = "") -> Slot:
    extra = {"for": purpose} if purpose else {}
    return Slot(name, read_accept(accept), medium, ml, extra=extra)


def _one(slot: Slot, *tubes: Tube, shop: tuple[Tube, ...] = (), sale: bool = False) -> SlotVerdict:
    supply = SupplyList("lesson", (slot,))
    workshop = Workshop(supply, [Box("1", tubes)], shop, {}, *([SALE] if sale else []))
    return check(workshop).seats[0].slots[0]


def _oil(name: str, label: str, **more: object) -> Tube:
    return tube(name, label, medium="oil", line="Heron", **more)


def test_a_titanium_zinc_white_is_a_normal_oil_white() -> None:
    got = _one(_slot("Titanium white", "PW6"), _oil("Titanium White", "PW6, PW4"))
    assert got.verdict == "right pigment" and got.do.startswith("use it")
    assert "titanium with some zinc is the usual titanium white in oil" in got.reasons
    assert "PW4 (zinc white): Oil films of zinc white turn brittle" in got.warning
    # In acrylic it is not, nor is zinc with some titanium.
    acrylic = tube("Titanium White", "PW6, PW4")
    reasons = _one(_slot("White", "PW6", "acrylic"), acrylic).reasons
    assert not any("usual titanium white" in reason for reason in reasons)
    mostly_zinc = _one(_slot("White", "PW6"), _oil("Mixing White", "PW4, PW6"))
    assert not any("usual titanium white" in reason for reason in mostly_zinc.reasons)
    assert got.paint == "artist oil"


def test_a_burnt_umber_of_three_pigments_is_not_thrown_out_on_a_guess() -> None:
    umber = _oil("Burnt Umber", "PBr7, PY42, PBk9")
    got = _one(_slot("Burnt umber", "PBr7/burnt-umber"), umber)
    assert got.verdict in ("stand-in", "check the form")
    assert got.tube == umber.id


def test_an_honest_hue_paint_is_called_one_and_not_a_wrong_pigment() -> None:
    hue = tube("Cobalt Blue Hue", "PB29, PW6", medium="oil", swatch_lab=(30.0, 20.0, -60.0))
    got = _one(_slot("Cobalt blue", "PB28"), hue)
    assert got.verdict != "wrong pigment behind the name"
    if got.verdict == "missing":
        assert "A hue paint: it imitates cobalt blue" in " ".join(got.reasons)
        assert "differs most" in " ".join(got.reasons)


def test_for_sale_nothing_that_fades_fills_a_slot_or_is_mixed_or_bought() -> None:
    crimson = _oil("Alizarin Crimson", "PR83")
    slot = _slot("Crimson", "PR83 | PR177")
    lasting = _oil("Anthraquinone Red", "PR177")
    assert _one(slot, crimson).verdict == "right pigment"
    assert "PR83 (alizarin crimson): Fades in light" in _one(slot, crimson).warning
    sold = _one(slot, crimson, shop=(crimson, lasting), sale=True)
    assert sold.verdict == "wrong pigment behind the name"
    assert "PR83 (alizarin crimson) is III in oil" in sold.reasons[0]
    assert sold.buy is not None and sold.buy.tube == lasting.id


def test_a_slot_says_what_it_is_for() -> None:
    slot = _slot("Crimson", "PR83", purpose="sale")
    assert _one(slot, _oil("Alizarin Crimson", "PR83")).verdict != "right pigment"


def test_zinc_white_stands_in_for_no_lead_white_in_oil() -> None:
    got = _one(_slot("Lead white", "PW1"), _oil("Zinc White", "PW4"))
    assert got.verdict == "missing"


@pytest.mark.parametrize(
    ("medium", "other", "mixes"),
    [
        ("oil", "water-mixable oil", True),
        ("watercolour", "gouache", True),
        ("oil", "acrylic", False),
        ("gouache", "acrylic gouache", False),
    ],
)
def test_the_binder_table_decides_what_may_fill_a_slot(
    medium: str, other: str, mixes: bool
) -> None:
    got = _one(_slot("Ultramarine", "PB29", medium), tube("Ultramarine", "PB29", medium=other))
    assert (got.verdict == "right pigment") is mixes
    if not mixes:
        assert "do not mix" in " ".join(got.reasons)


def test_a_millilitre_short_is_no_second_tube() -> None:
    got = _one(_slot("Rose", "PV19/gamma", ml=37.0), _oil("Rose", "PV19 gamma", size_ml=36.97))
    assert got.do == "use it" and got.buy is None


def test_amounts_add_and_only_what_is_short_is_bought() -> None:
    small = _oil("Titanium White", "PW6", size_ml=37.0)
    other = tube("Titanium White", "PW6", medium="oil", line="Rook", size_ml=40.0)
    slot = _slot("White", "PW6", ml=100.0)
    both = _one(slot, small, other, shop=(small,))
    assert both.buy is not None and both.buy.count == 1
    alone = _one(slot, small, shop=(small,))
    assert alone.buy is not None and alone.buy.count == 2
    assert "to have enough, buy 2 of Oakfen Heron Titanium White" in alone.do
