"""The binder comes before the colour. Expected answers: common practice, no source."""

from __future__ import annotations

from tests.invented import tube
from tubewise.advice.alike.compare import compare
from tubewise.paints.shelf import Shelf

OIL = tube("Ultramarine", "PB29", medium="oil")
ACRYLIC = tube("Ultramarine", "PB29", grade="student")
MIXABLE = tube("Ultramarine", "PB29", medium="water-mixable oil")
WASH = tube("Violet", "PV23", medium="watercolour")
GOUACHE = tube("Violet", "PV23", medium="gouache")
BROWN = tube("Burnt Umber", "PBr7 burnt umber", medium="oil")
BLACK = tube("Lamp Black", "PBk6", medium="oil")
SHELF = Shelf((OIL, ACRYLIC, MIXABLE, WASH, GOUACHE, BROWN, BLACK))


def test_an_oil_is_no_acrylic_whatever_the_colour() -> None:
    answer = compare(OIL, ACRYLIC, SHELF)
    assert answer.step == "no" and answer.decided_by == "binder" and not answer.close_call
    assert answer.verdict.startswith(
        "no, not one for the other: oils and acrylics do not mix: one is thinned with water"
    )
    assert "By colour alone: yes" in answer.verdict
    assert answer.paints == ("artist oil", "student acrylic")


def test_what_mixes_is_judged_by_its_colour() -> None:
    assert compare(OIL, MIXABLE, SHELF).step == "yes"
    assert compare(WASH, GOUACHE, SHELF).decided_by != "binder"


def test_each_is_rated_in_its_own_binder_and_fading_is_said() -> None:
    answer = compare(WASH, GOUACHE, SHELF)
    assert answer.lightfastness == ("IV", "not rated")
    assert all("PV23 (dioxazine violet)" in warning for warning in answer.warnings)
    # A pigment without a tube is asked about in the medium of the other.
    assert compare("PR122", WASH, SHELF).lightfastness[0] == "III"
    assert compare("PR122", OIL, SHELF).lightfastness[0] == "I"


def test_another_pace_of_drying_is_said() -> None:
    assert "dries more slowly in oil" in compare(BROWN, BLACK, SHELF).character
