"""How a tube looks, as far as anything known of it tells."""

from __future__ import annotations

from tubewise.advice.counter.look import look
from tubewise.paints.shelf import Shelf
from tubewise.tubes.tube import Tube


def test_pigments_give_a_strip() -> None:
    found = look(Tube(label="PB29"), Shelf())
    assert found.strip is not None and found.colour is not None
    assert found.basis not in ("", "swatch")


def test_a_swatch_gives_a_colour_only() -> None:
    found = look(Tube(name="Mystery", swatch_lab=(50.0, 0.0, 0.0)), Shelf())
    assert (found.strip, found.basis) == (None, "swatch")
    found = look(Tube(name="Mystery", swatch_hex="#808080"), Shelf())
    assert (found.strip, found.basis) == (None, "screen colour")


def test_nothing_known_looks_like_nothing() -> None:
    found = look(Tube(name="Mystery"), Shelf())
    assert (found.colour, found.strip, found.basis) == (None, None, "")
