"""What is known of a tube besides its colour. Common practice, no source."""

from __future__ import annotations

from tests.advice.shops import OIL, WATERCOLOUR, named
from tests.invented import tube
from tubewise.advice.counter.about import about


def test_an_oil_tells_its_drying_its_film_and_what_is_known_against_it() -> None:
    zinc = about(named(OIL, "Zinc White"))
    assert zinc.paint == "artist oil"
    assert "brittle and may flake" in zinc.warning
    known = {trait.of: trait.value for trait in zinc.handling}
    assert known["drying"] == "slow" and known["film"] == "brittle"
    assert zinc.binder.startswith("A drying oil")


def test_a_watercolour_tells_staining_and_granulation_and_its_own_rating() -> None:
    violet = about(named(WATERCOLOUR, "Dioxazine Violet"))
    assert violet.lightfastness == "IV"
    known = {trait.of: trait.value for trait in violet.handling}
    assert known["staining"] == "staining" and known["granulation"] == "smooth"
    assert all(trait.source for trait in violet.handling)


def test_a_tube_that_says_nothing_is_not_told_about() -> None:
    blank = about(tube("Mystery", "", medium="", grade=""))
    assert blank.handling == () and blank.warning == "" and blank.paint == ""
    assert blank.lightfastness == "not rated"
