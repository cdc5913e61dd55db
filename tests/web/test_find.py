"""One field for a name, a code, a maker, a hue or a label."""

from __future__ import annotations

import pytest

from tests.web.conftest import Visitor


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("PV19", "/pigments/PV19"),
        ("pv 19", "/pigments/PV19"),
        ("permanent rose", "Thornquay Wherry Permanent Rose"),
        ("ultramarine", "/pigments/PB29"),
        ("violet", "All "),
        ("Ostervik", "Ostervik Nordskær"),
    ],
)
def test_what_is_typed_is_found(reader: Visitor, typed: str, found: str) -> None:
    assert found in reader.get(f"/find?q={typed}")


def test_a_label_is_known_as_one(reader: Visitor) -> None:
    label = "Permanent Rose · Pigment: PV19 · Series 4 · Lightfastness I · 60 ml · Lot 4711"
    page = reader.get(f"/find?q={label}")
    assert "reads as a label" in page and "PV19" in page


def test_nothing_found_says_what_to_type(reader: Visitor) -> None:
    assert "small print on the back" in reader.get("/find?q=zzyzx+qwv")


def test_suggestions_are_strips_to_tap(reader: Visitor) -> None:
    page = reader.get("/find/suggestions?q=ultramarine")
    assert "<svg" in page and 'href="/tubes/' in page and "<html" not in page


def test_the_field_holds_what_was_searched_and_no_page_s_own_text(reader: Visitor) -> None:
    assert 'name="q" maxlength="400" autocomplete="off"' in reader.get("/find?q=PV19")
    assert 'value="PV19"' in reader.get("/find?q=PV19")
    boxes = reader.get("/class/boxes?boxes=Moor&seat=1").split("</header>")[0]
    assert 'value=""' in boxes
