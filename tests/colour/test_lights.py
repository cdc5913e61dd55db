from __future__ import annotations

import subprocess
import sys

import numpy as np
import pytest

from tubewise.colour.grid import N_BANDS, WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.lights import LIGHTS, OBSERVERS, weights, white_xyz
from tubewise.colour.xyz import xyz_from_reflectance
from tubewise.errors import UserError

EVERY_LIGHT = [(light, observer) for light in LIGHTS for observer in OBSERVERS]


def test_the_grid_runs_from_380_to_730_in_steps_of_10() -> None:
    assert WAVELENGTHS_NM.shape == (N_BANDS,) == (36,)
    assert WAVELENGTHS_NM[0] == 380.0
    assert WAVELENGTHS_NM[-1] == 730.0
    assert np.all(np.diff(WAVELENGTHS_NM) == 10.0)


@pytest.mark.parametrize(("light", "observer"), EVERY_LIGHT)
def test_a_perfect_white_has_Y_100_and_is_neutral(light: str, observer: str) -> None:
    white = np.ones(36)
    assert white_xyz(light, observer)[1] == pytest.approx(100.0, abs=1e-9)
    assert lab_from_reflectance(white, light, observer) == pytest.approx([100, 0, 0], abs=1e-9)


@pytest.mark.parametrize(
    ("light", "observer", "white"),
    [
        # ASTM E308-15, white points of table 5 (10 nm); from memory.
        ("D65", "2", (95.047, 100.0, 108.883)),
        ("D65", "10", (94.811, 100.0, 107.304)),
        ("D50", "2", (96.422, 100.0, 82.521)),
        ("A", "2", (109.850, 100.0, 35.585)),
        ("A", "10", (111.144, 100.0, 35.200)),
    ],
)
def test_whites_are_those_of_astm_e308(
    light: str, observer: str, white: tuple[float, float, float]
) -> None:
    assert white_xyz(light, observer) == pytest.approx(white, abs=0.01)


def test_reflectances_of_any_leading_shape_give_colours_of_that_shape() -> None:
    R = np.random.default_rng(1).uniform(size=(2, 3, 36))
    assert xyz_from_reflectance(R).shape == (2, 3, 3)
    assert lab_from_reflectance(R)[1, 2] == pytest.approx(lab_from_reflectance(R[1, 2]))


def test_weights_cannot_be_changed_by_a_caller() -> None:
    with pytest.raises(ValueError, match="read-only"):
        weights("A", "10")[0, 0] = 1.0


@pytest.mark.parametrize(("light", "observer"), [("D66", "2"), ("D65", "4"), ("", "10")])
def test_an_unknown_light_or_observer_names_the_known_ones(light: str, observer: str) -> None:
    with pytest.raises(UserError, match="LED-B3"):
        weights(light, observer)


def test_importing_the_package_does_not_import_numpy() -> None:
    code = "import sys, tubewise.colour; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
