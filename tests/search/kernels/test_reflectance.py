"""Reflectance of a film against the plain layers, and its slopes against differences."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.optics.film import film_reflectance, opaque_reflectance
from tubewise.optics.surface import Surface, measured_from_internal
from tubewise.search.kernels.layout import Film
from tubewise.search.kernels.reflectance import reflectance, reflectance_slopes


@pytest.mark.parametrize("thickness", [0.0, 0.002, 0.3, 5.0])
def test_reflectance_is_that_of_the_optics_layer(thickness):
    rng = np.random.default_rng(1)
    K, S = rng.lognormal(0, 2, 36), rng.lognormal(-1, 1, 36)
    ground = rng.uniform(0, 1, 36)
    film = Film(0.65, 0.97 * 0.35, 0.03, thickness, ground)
    out = np.empty(36)
    reflectance(K, S, film, out)
    inner = film_reflectance(K, S, thickness, ground) if thickness else opaque_reflectance(K, S)
    assert out == pytest.approx(measured_from_internal(inner, Surface()), abs=1e-9)


@pytest.mark.parametrize("thickness", [0.0, 0.0005, 0.3, 50.0])
def test_reflectance_slopes_agree_with_differences(thickness):
    rng = np.random.default_rng(2)
    K, S = rng.lognormal(0, 1, 36), rng.lognormal(-1, 1, 36)
    ground = rng.uniform(0, 1, 36)
    film = Film(0.65, 0.97 * 0.35, 0.03, thickness, ground)
    out, dK, dS = np.empty(36), np.empty(36), np.empty(36)
    reflectance_slopes(K, S, film, out, dK, dS)
    up, down = np.empty(36), np.empty(36)
    for slope, kd, sd in ((dK, 1e-6, 0.0), (dS, 0.0, 1e-6)):
        reflectance(K + kd, S + sd, film, up)
        reflectance(K - kd, S - sd, film, down)
        assert slope == pytest.approx((up - down) / 2e-6, abs=1e-6)
