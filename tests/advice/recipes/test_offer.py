"""A mixture that takes a tube's place."""

from __future__ import annotations

from tests.advice.recipes.six_tubes import PAINTS, SHELF
from tubewise.advice.plain import plain
from tubewise.advice.recipes.offer import offer


def test_an_offer_is_no_surer_than_what_it_stands_in_for() -> None:
    guessed = SHELF.blend(("PY3", "PG7"))
    made = offer(guessed, PAINTS, SHELF.setting(), (), limit=6.0)
    assert made is not None
    offered, blend = made
    assert offered.confidence == "low"
    assert any("starting guess" in reason for reason in offered.reasons)
    assert offered.behaviour is not None
    assert offered.behaviour.worst.delta_e00 == offered.worst_delta_e00
    assert offered.close_call == (offered.behaviour.worst_high > 6.0)
    assert "behaviour" not in plain(offered)
    assert set(blend.refs) <= {"PW6", "PY3", "PB29", "PV19/gamma", "PG7", "PR108"}
