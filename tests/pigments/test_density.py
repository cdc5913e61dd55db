"""What paints weigh, and parts by mass turned into parts by volume."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.errors import UserError
from tubewise.pigments import density
from tubewise.pigments.density import paint_density, volume_parts, weights
from tubewise.pigments.register import load


def test_every_pigment_weighs_something() -> None:
    for ref in load().refs:
        found = weights(ref)
        # From carbon and dyes to gold.
        assert 1.0 < found.density < 20.0
        assert 1.0 < found.paint("acrylic") < 2.5
        assert found.source


def test_heavy_paints_are_the_ones_that_feel_heavy() -> None:
    # common practice, no source: a tube of cadmium or titanium white weighs half as much again.
    assert paint_density("PO20") > 1.5 * paint_density("PV19")
    assert paint_density("PW6") > 1.3 * paint_density("PB15:3")
    assert paint_density("PW1", "oil") > 3.0


def test_one_to_one_by_mass_is_less_of_the_heavy_paint() -> None:
    parts = volume_parts(["PO20", "PV19"], [1.0, 1.0])
    assert parts.sum() == pytest.approx(1.0)
    assert 0.35 < parts[0] < 0.43


def test_many_mixtures_at_once() -> None:
    parts = volume_parts(["PW6", "PB29"], np.array([[1.0, 1.0], [9.0, 1.0]]), "oil")
    assert parts.shape == (2, 2)
    assert np.allclose(parts.sum(axis=1), 1.0)


def test_other_binders_are_refused() -> None:
    with pytest.raises(ValueError, match="acrylic and oil"):
        paint_density("PB29", "watercolour")


def test_a_class_without_a_density_says_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(density, "_table", dict)
    with pytest.raises(UserError, match=r"densities\.csv"):
        weights("PB29")
