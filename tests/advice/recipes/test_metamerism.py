"""What a change of light does to a match."""

from __future__ import annotations

import pytest

from tests.advice.recipes.six_tubes import PAINTS
from tubewise.advice.recipes.metamerism import special_metamerism
from tubewise.paints.appearance import appearance


def test_a_colour_is_not_metameric_to_itself() -> None:
    R = appearance(PAINTS[2].K[0], PAINTS[2].S[0])
    assert max(special_metamerism(R, R).values()) == pytest.approx(0.0, abs=1e-6)
