from __future__ import annotations

import numpy as np
import pytest

from tests.measure.synthetic_drawdowns import film, paint
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance
from tubewise.errors import UserError
from tubewise.measure.measured import from_json
from tubewise.measure.references import Optics
from tubewise.measure.swatch import learn_from_swatch
from tubewise.optics.swatch import Swatch, masstone_lab
from tubewise.paints.composition import compose

PAINT = paint(np.random.default_rng(21))
MODEL = Optics(PAINT.K, PAINT.S, "the model")
# The model's own masstone, and one that is a little off it.
OWN = lab_from_reflectance(film(PAINT))
OFF = OWN + np.array([2.0, -3.0, 2.0])


def test_a_swatch_scales_the_model() -> None:
    learnt = learn_from_swatch(OFF, MODEL, tube="t", geometry="included")
    assert delta_e_2000(masstone_lab(learnt.K, learnt.S), OWN) > 2.0
    assert delta_e_2000(masstone_lab(learnt.K, learnt.S), OFF) < 1.0
    assert learnt.level == "swatch" and learnt.confidence == "low"
    assert "tinting strength" in learnt.not_learned[0]
    assert from_json(learnt.to_json()).to_json() == learnt.to_json()


def test_the_models_own_colour_leaves_it_alone() -> None:
    learnt = learn_from_swatch(OWN, MODEL, geometry="included")
    np.testing.assert_allclose(learnt.K, MODEL.K, rtol=1e-3)


def test_a_swatch_is_taken_as_read_without_the_mirror_reflection_unless_said() -> None:
    bare = masstone_lab(PAINT.K, PAINT.S, "excluded")
    learnt = learn_from_swatch(bare, MODEL)
    np.testing.assert_allclose(learnt.K, MODEL.K, rtol=1e-3)
    assert learnt.conditions.specular == "excluded"
    assert any("excluded" in words for words in learnt.assumed)


def test_it_is_what_a_tube_of_that_pigment_and_swatch_is_taken_for() -> None:
    learnt = learn_from_swatch(OFF, MODEL, geometry="included")
    made = compose(
        MODEL.K[None, None],
        MODEL.S[None, None],
        np.random.default_rng(1),
        Swatch(lab=OFF, geometry="included"),
    )
    np.testing.assert_allclose(made.K[0], learnt.K, rtol=1e-2)


def test_what_is_left_unknown_is_as_wide_as_the_draws_of_such_a_tube() -> None:
    learnt = learn_from_swatch(OFF, MODEL, geometry="included")
    draws = 2_000
    made = compose(
        np.repeat(MODEL.K[None, None], draws, axis=1),
        np.repeat(MODEL.S[None, None], draws, axis=1),
        np.random.default_rng(2),
        Swatch(lab=OFF, geometry="included"),
    )
    stated = np.sqrt((learnt.shared[:3, :, 0] ** 2).sum(axis=0))
    np.testing.assert_allclose(np.log(made.K[1:]).std(axis=0), stated, rtol=0.25)


def test_a_swatch_no_model_can_meet_is_refused() -> None:
    with pytest.raises(UserError, match="from anything the model can be"):
        learn_from_swatch((95.0, 0.0, 100.0), MODEL)
