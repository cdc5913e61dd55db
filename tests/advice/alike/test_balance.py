"""Parts that pull alike, and the white that lifts a mixture out of the dark."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tubewise.advice.alike.balance import LIGHTENERS, STEPS, balanced_parts, lightened_to
from tubewise.advice.alike.strength import tinting_strength
from tubewise.paints.shelf import Shelf

SHELF = Shelf()


def parts(a: str, b: str) -> tuple[int, int]:
    return balanced_parts(SHELF.term(a), SHELF.term(b))


def test_much_of_a_weak_paint_to_little_of_a_strong_one() -> None:
    """Phthalocyanines and dioxazine drown what is mixed with them. Common practice, no source."""
    for strong in ("PB15:3", "PG7", "PV23"):
        for weak in ("PY3", "PB29", "PBr7/burnt-sienna"):
            many, few = parts(weak, strong)
            assert many >= 2 and few == 1, (weak, strong)


def test_which_is_named_first_does_not_matter() -> None:
    for a, b in (("PY3", "PG7"), ("PB29", "PR108"), ("PW6", "PBk9"), ("PB29", "PB29")):
        assert parts(a, b) == parts(b, a)[::-1]
        assert min(parts(a, b)) == 1 and max(parts(a, b)) in STEPS


def test_balanced_parts_absorb_about_alike() -> None:
    for a, b in (("PY3", "PG7"), ("PB29", "PR108"), ("PV19/gamma", "PB15:3")):
        pulls = [
            n * tinting_strength(SHELF.term(t)) for n, t in zip(parts(a, b), (a, b), strict=True)
        ]
        # Steps lie at most a factor of two apart: half a step is the most that is lost.
        assert max(pulls) / min(pulls) < 2.0**0.5 + 0.01


def test_a_white_that_was_measured_to_absorb_nothing_is_the_weakest_of_all() -> None:
    white = SHELF.term("PW6")
    clear = replace(white, K=white.K * 0.0)
    assert balanced_parts(clear, SHELF.term("PB29")) == (STEPS[-1], 1)
    assert balanced_parts(clear, clear) == (1, 1)


@pytest.mark.parametrize("medium", ["acrylic", "watercolour"])
def test_no_more_white_than_lifts_the_mixture(medium: str) -> None:
    paints = [SHELF.term("PB29"), SHELF.term("PG7")]
    setting = SHELF.setting_for(*paints, medium=medium)
    few, more = (lightened_to(paints, (4, 1), setting, L) for L in (35.0, 60.0))
    assert few < more and {few, more} <= set(LIGHTENERS)
    assert lightened_to(paints, (4, 1), setting, 0.0) == 0
    assert lightened_to(paints, (4, 1), setting, 0.0, least=10.0) == 12
    assert lightened_to(paints, (4, 1), setting, 101.0) == LIGHTENERS[-1]
