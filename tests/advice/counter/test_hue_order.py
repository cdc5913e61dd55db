"""A rack runs round the hues, with browns, greys, blacks and whites at its end."""

from __future__ import annotations

from tubewise.advice.counter.hue_order import place_on_rack
from tubewise.colour.patch import Colour
from tubewise.paints.shelf import Shelf
from tubewise.paints.strip import strip
from tubewise.pigments.register import load


def placed(shelf: Shelf, ref: str) -> tuple[int, float, float]:
    paint = shelf.pigment(ref)
    setting = shelf.setting_for(paint)
    pigment, _ = load().resolve(ref)
    colour = Colour.of(setting.lab_alone(paint)[0])
    return place_on_rack((pigment.hue,), colour, strip(paint, setting))


def test_paints_stand_as_on_a_rack(shelf: Shelf) -> None:
    """Common practice, no source: lemon before golden yellow, warm reds before cold, then on."""
    rack = ["PY3", "PY83", "PO73", "PR254", "PV19/gamma", "PV23", "PB29/red-shade", "PB15:3"]
    rack += ["PG7", "PG36", "PBr7/burnt-sienna", "PBk9", "PW6"]
    assert sorted(rack, key=lambda ref: placed(shelf, ref)) == rack


def test_an_olive_stands_among_the_greens() -> None:
    olive = Colour.of((40.0, -4.0, 30.0))
    lemon = Colour.of((90.0, -8.0, 80.0))
    green = Colour.of((50.0, -40.0, 30.0))
    family = [place_on_rack((hue,), c, None)[0] for hue, c in (("yellow", olive), ("green", green))]
    assert family[0] == family[1] != place_on_rack(("yellow",), lemon, None)[0]


def test_what_nobody_knows_comes_last() -> None:
    assert place_on_rack((), None, None) > place_on_rack(("white",), Colour.of((97, 0, 2)), None)
