from __future__ import annotations

import warnings

import numpy as np
import pytest

from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.errors import UserError
from tubewise.measure.resample import resample, sprague


def smooth(w: np.ndarray) -> np.ndarray:
    """A red's spectrum: an edge at 600 nm and a hump at 450."""
    return 0.05 + 0.7 / (1 + np.exp(-(w - 600) / 15)) + 0.1 * np.exp(-(((w - 450) / 40) ** 2))


def test_the_grid_itself_passes_unchanged() -> None:
    R = smooth(WAVELENGTHS_NM)
    got = resample(WAVELENGTHS_NM, R)
    assert np.array_equal(got.reflectance, R) and got.measured.all() and not got.notes


def test_finer_steps_that_hold_the_grid_are_picked_out() -> None:
    w = np.arange(360.0, 781.0, 1.0)
    assert np.array_equal(resample(w, smooth(w)).reflectance, smooth(WAVELENGTHS_NM))


@pytest.mark.parametrize(
    ("w", "within"),
    [
        (np.arange(363.0, 780.0, 3.5), 1e-4),
        (np.arange(365.0, 780.0, 10.0), 1e-3),
        (np.arange(360.0, 781.0, 20.0), 1.5e-2),
        (np.sort(np.random.default_rng(0).uniform(361, 779, 90)), 2e-2),
    ],
)
def test_other_steps_are_interpolated(w: np.ndarray, within: float) -> None:
    w = np.unique(np.concatenate([w, [361.0, 779.0]])) if within == 2e-2 else w
    got = resample(w, smooth(w))
    np.testing.assert_allclose(got.reflectance, smooth(WAVELENGTHS_NM), atol=within)


@pytest.mark.slow
def test_sprague_is_that_of_colour_science() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
    w = np.arange(360.0, 781.0, 20.0)
    at = np.arange(362.0, 779.0, 3.0)
    theirs = colour.SpragueInterpolator(w, smooth(w))(at)
    np.testing.assert_allclose(sprague(smooth(w), 360.0, 20.0, at), theirs, atol=1e-12)


def test_many_spectra_at_once() -> None:
    w = np.arange(365.0, 780.0, 10.0)
    both = resample(w, np.stack([smooth(w), 0.5 * smooth(w)])).reflectance
    np.testing.assert_allclose(both[1], 0.5 * both[0])


def test_a_400_nm_instrument_is_carried_on_with_a_word() -> None:
    w = np.arange(400.0, 701.0, 10.0)
    got = resample(w, smooth(w))
    assert got.measured.sum() == 31
    assert np.all(got.reflectance[:2] == smooth(np.array(400.0)))
    assert "below 400 nm and above 700 nm" in got.notes[0]


def test_overshoot_is_cut_and_coarse_steps_are_told() -> None:
    w = np.arange(380.0, 741.0, 20.0)
    step = np.where(w < 560, 0.0, 1.0)
    got = resample(w, step)
    assert got.reflectance.min() >= 0.0 and got.reflectance.max() <= 1.0
    assert "bandpass" in got.notes[0]


@pytest.mark.parametrize(
    ("w", "words"),
    [
        (np.arange(430.0, 731.0, 10.0), "must start by 420"),
        (np.arange(380.0, 671.0, 10.0), "go on to 680"),
        (np.r_[380:500:10, 600:740:10].astype(float), "Nothing between 490 and 600"),
    ],
)
def test_what_is_too_short_is_refused(w: np.ndarray, words: str) -> None:
    with pytest.raises(UserError, match=words):
        resample(w, smooth(w), "a.csv")
