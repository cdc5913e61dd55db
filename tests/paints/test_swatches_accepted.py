"""Correct swatches from 45/0 instruments are taken for what they are."""

from __future__ import annotations

import numpy as np
import pytest

from tests.invented import tube
from tubewise.measure.references import Optics
from tubewise.measure.swatch import learn_from_swatch
from tubewise.optics.surface import converted
from tubewise.optics.swatch import masstone_lab
from tubewise.paints.shelf import Shelf
from tubewise.pigments import models

DARK = ("PB15:3", "PB29", "PR122", "PBr7/burnt-umber", "PG36")
LABELS = {"PBr7/burnt-umber": "PBr7 burnt umber"}


def accepted(ref: str, lab: np.ndarray, **more: object) -> bool:
    one = tube(f"{ref} {lab[0]:.2f}", LABELS.get(ref, ref), swatch_lab=tuple(lab), **more)
    paint = Shelf([one]).tube(one)
    assert paint is not None
    return not paint.contradicted


@pytest.mark.parametrize("ref", DARK)
def test_a_45_0_swatch_of_a_dark_paint_is_accepted(ref: str) -> None:
    best = models.optics(ref)
    assert accepted(ref, masstone_lab(best.K, best.S, "excluded"))
    assert accepted(ref, masstone_lab(best.K, best.S, "included"), swatch_geometry="included")


@pytest.mark.slow
@pytest.mark.parametrize("ref", DARK)
def test_so_are_swatches_of_other_makers(ref: str) -> None:
    K, S = models.samples(ref, 10, np.random.default_rng(4))
    swatches = masstone_lab(K, S, "excluded")
    assert sum(accepted(ref, lab) for lab in swatches) >= 9


@pytest.mark.parametrize(
    ("ref", "lab"),
    [
        # Masstones as the trade knows them with the mirror reflection, from memory.
        ("PB15:3", (24.0, 6.0, -20.0)),
        ("PB29", (24.0, 20.1, -32.2)),
        ("PR122", (32.0, 42.0, 8.0)),
        ("PBr7/burnt-umber", (26.5, 5.1, 6.1)),
        ("PG36", (27.5, -16.0, 3.0)),
    ],
)
def test_recalled_masstones_read_without_their_reflection_are_accepted(
    ref: str, lab: tuple[float, float, float]
) -> None:
    assert accepted(ref, converted(lab, "included", "excluded"))


@pytest.mark.parametrize("ref", DARK)
def test_a_measurement_of_such_a_swatch_alone_is_accepted_too(ref: str) -> None:
    best = models.optics(ref)
    model = Optics(best.K, best.S, ref)
    for geometry in ("excluded", "included"):
        lab = masstone_lab(best.K, best.S, geometry)
        learnt = learn_from_swatch(lab, model, geometry=geometry)
        np.testing.assert_allclose(learnt.K, best.K, rtol=0.05)
