"""Recipes in two steps, where no part can dose a strong paint."""

from __future__ import annotations

import numpy as np
import pytest

from tests.advice.recipes.six_tubes import PAINTS, SHELF, named
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.target import target
from tubewise.colour.lab import lab_from_reflectance
from tubewise.paints.appearance import appearance


@pytest.mark.slow
def test_what_no_part_can_dose_is_mixed_in_two_steps() -> None:
    aim = target("lab:85,-14,-5", SHELF)
    answer = recipe(aim, PAINTS, 3, 16)
    best = answer.nearest
    told = next(one for one in answer.recipes if one.kind == "premixed")
    assert told.delta_e00 < best.delta_e00 - 0.5
    assert told.tint_first.startswith("first mix 1 part") and "with 9 parts" in told.tint_first
    assert told.steps[0] == told.tint_first and "start with" in told.steps[1]
    assert told.words == f"{told.mixture}: {told.how_near}"
    assert told.tint_first in told.mixture and "part" not in told.how_near
    assert "in two steps" in answer.words
    # What is said in tubes is the same mixture.
    chosen = [named(part.title) for part in told.parts]
    shares = np.array([part.parts for part in told.parts])
    shares = shares / shares.sum()
    K, S = (sum(c * getattr(p, k)[0] for c, p in zip(shares, chosen, strict=True)) for k in "KS")
    lab = lab_from_reflectance(appearance(K, S))
    np.testing.assert_allclose(lab, told.colour.lab, atol=0.05)
    assert len(told.parts) <= 3


@pytest.mark.slow
def test_whole_parts_that_lose_nothing_need_no_second_step() -> None:
    answer = recipe(target("lab:62,20,-20", SHELF), PAINTS, 3, 40)
    assert all(r.kind != "premixed" for r in answer.recipes)


@pytest.mark.slow
def test_what_two_steps_reach_is_never_called_out_of_reach() -> None:
    for aim in ("lab:85,-14,-5", "lab:88,-10,-4", "lab:84,-16,0"):
        answer = recipe(target(aim, SHELF), PAINTS, 3, 16)
        if "within reach" in answer.words:
            assert "reaches it" not in answer.words and "out of reach" not in answer.words
    assert "within reach in two steps" in recipe(target("lab:85,-14,-5", SHELF), PAINTS, 3).words
