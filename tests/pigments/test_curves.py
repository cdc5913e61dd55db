"""Curves of absorption and scattering from few numbers."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.pigments.curves import absorption, bands_sum, edges_sum, scattering
from tubewise.pigments.models import Shape

NM = np.linspace(380.0, 730.0, 351)


def test_a_band_peaks_where_it_should_and_falls_to_e_half_at_its_width() -> None:
    band = bands_sum(NM, np.array([[600.0, 20.0, 2.0]]))
    assert NM[band.argmax()] == 600.0 and band.max() == pytest.approx(2.0)
    # One standard deviation in wavenumber: 1/600 - 20/600^2 is the longer wavelength.
    at = 1.0 / (1.0 / 600.0 - 20.0 / 600.0**2)
    value = bands_sum(np.array([at]), np.array([[600.0, 20.0, 2.0]]))[0]
    assert value == pytest.approx(2.0 * np.exp(-0.5))


def test_an_edge_fades_exponentially_to_long_waves() -> None:
    edge = edges_sum(NM, np.array([[500.0, 8.0, 1.0]]))
    assert edge[NM == 500.0] == pytest.approx(0.5)
    assert edge[NM == 400.0] == pytest.approx(1.0, abs=1e-4)
    ratio = edge[NM == 580.0] / edge[NM == 588.0]
    assert ratio == pytest.approx(np.e, rel=1e-3)


def test_curves_take_leading_axes() -> None:
    bands = np.array([[600.0, 20.0, 2.0], [650.0, 20.0, 1.0]])
    none = np.zeros((0, 3))
    one = absorption(NM, bands, none, np.array([0.1, 1.0]))
    many = absorption(NM, np.stack([bands] * 4), np.zeros((4, 0, 3)), np.array([[0.1, 1.0]] * 4))
    assert many.shape == (4, 351) and np.allclose(many, one)


def scatter(**more: float) -> np.ndarray:
    """Scattering parameters: level 0.5, no slope, no step, no bronze, unless said otherwise."""
    usual = {"level": 0.5, "power": 0.0, "step": 500.0, "width": 5.0, "below": 1.0}
    usual |= {"bronze": 0.0, "peak": 0.0, "fade": 30.0}
    return np.array(list((usual | more).values()))


def test_scattering_follows_its_power_its_step_and_bronze() -> None:
    K = np.full(351, 2.0)
    plain = scattering(NM, scatter(power=1.0), K)
    assert plain[NM == 560.0] == pytest.approx(0.5)
    assert plain[0] / plain[-1] == pytest.approx(730.0 / 380.0)
    stepped = scattering(NM, scatter(step=550.0, below=0.4), K)
    assert stepped[0] == pytest.approx(0.2) and stepped[-1] == pytest.approx(0.5)
    bronzed = scattering(NM, scatter(power=1.0, bronze=0.05), K)
    assert np.allclose(bronzed - plain, 0.1)


def test_scattering_peaks_just_past_the_edge_and_falls_back() -> None:
    S = scattering(NM, scatter(below=0.5, peak=3.0), np.zeros(351))
    top = NM[S.argmax()]
    assert 500.0 < top < 515.0
    assert S.max() > 1.2
    assert S[NM == 620.0] == pytest.approx(0.5 * (1.0 + 3.0 * np.exp(-4.0)), rel=0.02)
    assert S[NM == 400.0] == pytest.approx(0.25, rel=0.02)


def test_a_shape_gives_both_curves_on_any_grid() -> None:
    shape = Shape(np.zeros((0, 3)), np.zeros((0, 3)), np.array([1.0, 0.0]), scatter(level=1.0))
    K, S = shape.curves(np.array([400.0, 700.0]))
    assert np.allclose(K, 1.0) and np.allclose(S, 1.0)
