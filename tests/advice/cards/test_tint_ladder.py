"""The steps of a tint ladder."""

from __future__ import annotations

import pytest

from tubewise.advice.cards.tint_ladder import STEPS, tint_ladder
from tubewise.errors import UserError
from tubewise.paints.mixing import mix
from tubewise.paints.shelf import Shelf


def test_each_step_holds_more_white_and_is_lighter() -> None:
    ladder = tint_ladder(("PB29",), Shelf())
    (rungs,) = ladder.rungs
    assert [rung.white for rung in rungs] == [0.0, *STEPS]
    lightness = [rung.colour.lab[0] for rung in rungs]
    assert lightness == sorted(lightness)


def test_a_step_is_the_mixture_in_those_parts() -> None:
    shelf = Shelf()
    rung = tint_ladder(("PB29",), shelf).rungs[0][3]
    paints = [shelf.term("PB29"), shelf.term("PW6")]
    assert rung.colour.hex == mix(paints, [1.0, rung.white]).colour.hex


def test_a_ladder_needs_a_tube() -> None:
    with pytest.raises(UserError, match="1 to 40"):
        tint_ladder((), Shelf())


def test_a_watercolour_is_thinned_with_water_from_none_to_a_breath() -> None:
    """Common practice, no source."""
    ladder = tint_ladder(("PB29",), Shelf(), medium="watercolour")
    light = [rung.colour.lab[0] for rung in ladder.rungs[0]]
    assert (ladder.title, ladder.white, ladder.alone) == ("Wash ladder", "water", "no water")
    assert light == sorted(light) and light[-1] > 85.0
    in_white = tint_ladder(("PB29",), Shelf(), "PW6", "watercolour")
    assert in_white.title == "Tint ladder" and in_white.rungs[0][0].colour.lab[0] < light[0]
