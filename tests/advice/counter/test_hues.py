"""Under which hues people look for a tube."""

from __future__ import annotations

import pytest

from tubewise.advice.counter.hues import HUES, hues
from tubewise.colour.patch import Colour
from tubewise.tubes.tube import Tube


def test_a_pigment_of_one_colour_goes_by_the_register() -> None:
    assert hues(Tube(label="PY3"), None) == ("yellow",)


@pytest.mark.parametrize(
    ("lab", "hue"),
    [
        ((95.0, 0.0, 2.0), "white"),
        ((20.0, 0.0, 0.0), "black"),
        ((55.0, 1.0, 1.0), "grey"),
        ((35.0, 20.0, 25.0), "brown"),
        ((85.0, 5.0, 90.0), "yellow"),
        ((50.0, 65.0, 45.0), "red"),
        ((40.0, 5.0, -50.0), "blue"),
    ],
)
def test_others_go_by_their_colour(lab: tuple[float, float, float], hue: str) -> None:
    found = hues(Tube(name="Mystery", swatch_lab=lab), Colour.of(lab))
    assert hue in found and set(found) <= set(HUES)


def test_what_lies_between_two_hues_is_found_under_both() -> None:
    assert len(hues(Tube(name="Turquoise"), Colour.of((60.0, -40.0, -15.0)))) == 2


def test_nobody_knows_a_tube_without_pigments_and_colour() -> None:
    assert hues(Tube(name="Mystery"), None) == ()
