"""Directions in which paints stray from their pigment's curves."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.pigments.models import optics
from tubewise.pigments.spread import (
    DIRECTIONS,
    LEVEL,
    LOAD,
    SHIFT,
    STRENGTH,
    WINDOWS,
    N,
    moved,
    pack,
    unpack,
    windows,
)

ROSE = optics("PV19/gamma")


def one(direction: int, amount: float) -> tuple[np.ndarray, np.ndarray]:
    """Rose moved one way: K and S (36,)."""
    steps = np.zeros((1, N))
    steps[0, direction] = amount
    K, S = moved(ROSE.K, ROSE.S, steps)
    return K[0], S[0]


def test_no_step_moves_nothing() -> None:
    K, S = moved(ROSE.K, ROSE.S, np.zeros((3, N)))
    assert K.shape == S.shape == (3, 36)
    assert np.allclose(K, ROSE.K) and np.allclose(S, ROSE.S)


def test_load_moves_both_strength_one_and_level_the_other() -> None:
    K, S = one(LOAD, 0.3)
    assert np.allclose(K / ROSE.K, np.exp(0.3)) and np.allclose(S / ROSE.S, np.exp(0.3))
    K, S = one(STRENGTH, 0.3)
    assert np.allclose(K / ROSE.K, np.exp(0.3)) and np.allclose(S, ROSE.S)
    K, S = one(LEVEL, 0.3)
    assert np.allclose(K, ROSE.K) and np.allclose(S / ROSE.S, np.exp(0.3))


def test_a_shift_moves_the_edge_along_the_spectrum() -> None:
    K, _ = one(SHIFT, 10.0)
    assert np.allclose(K[1:], ROSE.K[:-1])


def test_windows_move_where_little_is_absorbed() -> None:
    open_ = windows(ROSE.K)
    deepest, clearest = int(ROSE.K.argmax()), int(ROSE.K.argmin())
    assert open_[deepest] == 0.0 and open_[clearest] > 0.8
    K, _ = one(WINDOWS, 0.5)
    assert K[deepest] == pytest.approx(ROSE.K[deepest])
    assert K[clearest] > 1.4 * ROSE.K[clearest]


def test_each_knot_moves_its_own_part_of_the_spectrum() -> None:
    K, _ = one(DIRECTIONS.index("K_520"), 0.2)
    ratio = np.log(K / ROSE.K)
    assert ratio[WAVELENGTHS_NM == 520.0] == pytest.approx(0.2)
    assert np.allclose(ratio[(WAVELENGTHS_NM < 460.0) | (WAVELENGTHS_NM > 580.0)], 0.0)


def test_a_symmetric_matrix_survives_writing_and_reading() -> None:
    rng = np.random.default_rng(3)
    half = rng.standard_normal((N, N))
    assert np.allclose(unpack(pack(half + half.T)), half + half.T, rtol=5e-3)
    with pytest.raises(ValueError, match="120 numbers"):
        unpack("1 2 3")
