"""The surface of a film: Saunderson's correction and the constants behind it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.surface import (
    BARE,
    GLOSS,
    THEORETICAL,
    Surface,
    converted,
    gloss_read,
    internal_from_measured,
    measured_from_internal,
)

constant = st.floats(0.0, 0.9)


def fresnel(cosine: float, n: float) -> float:
    """Unpolarised reflection of a smooth surface, by Fresnel's equations.

    Light comes from the air side (n > 1) or from inside (n < 1).
    """
    sine_out = np.sqrt(1.0 - cosine * cosine) / n
    if sine_out >= 1.0:
        return 1.0
    out = np.sqrt(1.0 - sine_out**2)
    s = (cosine - n * out) / (cosine + n * out)
    p = (n * cosine - out) / (n * cosine + out)
    return float(0.5 * (s * s + p * p))


def test_the_theoretical_constants_are_fresnels_equations_integrated() -> None:
    """Saunderson 1942 gives 0.040 and 0.596 for a binder of refractive index 1.5."""
    n = 1.5
    critical = np.sqrt(1.0 - 1.0 / n**2)
    inside, _ = quad(lambda c: 2.0 * c * fresnel(c, 1.0 / n), 0.0, 1.0, points=[critical])
    assert THEORETICAL.k1 == pytest.approx(fresnel(1.0, n), abs=5e-4)
    assert THEORETICAL.k2 == pytest.approx(inside, abs=5e-4)


@given(st.floats(0.0, 1.0), constant, constant, st.booleans())
def test_the_two_directions_undo_each_other(R: float, k1: float, k2: float, gloss: bool) -> None:
    surface = Surface(k1, k2, gloss)
    back = internal_from_measured(measured_from_internal(R, surface), surface)
    assert float(back) == pytest.approx(R, abs=1e-9)


def test_a_perfect_white_stays_white_and_black_shows_only_its_gloss() -> None:
    assert float(measured_from_internal(1.0)) == pytest.approx(1.0)
    assert float(measured_from_internal(0.0)) == GLOSS.k1
    assert float(measured_from_internal(0.0, Surface(specular_included=False))) == 0.0
    assert float(measured_from_internal(0.37, BARE)) == 0.37


def test_a_reading_below_the_gloss_is_taken_as_black() -> None:
    assert float(internal_from_measured(0.01)) == 0.0


@pytest.mark.parametrize("bad", [(-0.1, 0.5), (0.5, 1.0)])
def test_constants_outside_their_range_are_refused(bad: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="surface constants"):
        Surface(*bad)


@pytest.mark.slow
@given(st.lists(st.floats(0.05, 0.95), min_size=36, max_size=36))
def test_a_colour_is_converted_as_its_spectrum_would_be(inside: list[float]) -> None:
    excluded, included = (
        lab_from_reflectance(measured_from_internal(inside, gloss_read(geometry)))
        for geometry in ("excluded", "included")
    )
    assert np.allclose(converted(excluded, "excluded", "included"), included, atol=1e-9)
    assert np.allclose(converted(included, "included", "excluded"), excluded, atol=1e-9)
    assert np.allclose(converted(included, "included", "included"), included, atol=1e-9)


def test_the_mirror_reflection_lightens_darks_and_leaves_lights_alone() -> None:
    dark, light = converted([[10.0, 20.0, -40.0], [90.0, 0.0, 80.0]], "excluded", "included")
    assert dark[0] > 22.0 and abs(dark[2]) < 30.0
    assert light[0] == pytest.approx(91.3, abs=0.3)


def test_what_is_darker_than_the_mirror_reflection_becomes_black() -> None:
    assert np.allclose(converted([5.0, 0.0, 0.0], "included", "excluded"), 0.0)


def test_an_unknown_geometry_is_refused() -> None:
    with pytest.raises(ValueError, match="included or excluded"):
        converted([50.0, 0.0, 0.0], "sphere", "included")
