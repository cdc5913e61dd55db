"""Our own arithmetic against colour-science, which computes the same standards independently."""

from __future__ import annotations

import warnings
from types import ModuleType

import numpy as np
import pytest

from tests.colour.notation import notation_of
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.hexes import lab_from_hex
from tubewise.colour.lab import lab_from_reflectance, lab_from_relative, lab_from_xyz
from tubewise.colour.lights import LIGHTS, OBSERVERS, white_xyz
from tubewise.colour.munsell import lab_from_munsell, munsell_from_hvc
from tubewise.colour.renotation import WHITE_C_XY, greatest_chroma, luminance_from_value, xy_offset
from tubewise.colour.xyz import xyz_from_reflectance

# colour-science reports every alignment of tables as a warning.
pytestmark = [pytest.mark.slow, pytest.mark.filterwarnings("ignore::Warning")]

CMFS = {
    "2": "CIE 1931 2 Degree Standard Observer",
    "10": "CIE 1964 10 Degree Standard Observer",
}


@pytest.fixture(scope="module")
def colour() -> ModuleType:
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
    return colour


def spectra() -> np.ndarray:
    rng = np.random.default_rng(6)
    edges = 1.0 / (1.0 + np.exp(-(WAVELENGTHS_NM - rng.uniform(420, 680, (4, 1))) / 12.0))
    return np.concatenate((rng.uniform(size=(4, 36)), edges, np.full((1, 36), 0.04)))


@pytest.mark.parametrize("observer", OBSERVERS)
@pytest.mark.parametrize("light", LIGHTS)
def test_xyz_and_lab_of_reflectances_within_1e_6(
    colour: ModuleType, light: str, observer: str
) -> None:
    """Against `sd_to_XYZ(..., method="ASTM E308")` on the same 380-730/10 nm spectra.

    That call makes E2022 weights from the 1 nm observer (and a light brought to 1 nm) and folds
    the missing ends as E308 says; the white of CIELAB is that call on a perfect white, so that
    both sides use one table.
    """
    cmfs, lamp = colour.MSDS_CMFS[CMFS[observer]], colour.SDS_ILLUMINANTS[light]

    def reference(R: np.ndarray) -> np.ndarray:
        sd = colour.SpectralDistribution(R, WAVELENGTHS_NM)
        return np.asarray(colour.sd_to_XYZ(sd, cmfs, lamp, method="ASTM E308"))

    R = spectra()
    white = colour.XYZ_to_xy(reference(np.ones(36)))
    xyz = np.array([reference(r) for r in R])
    assert xyz_from_reflectance(R, light, observer) == pytest.approx(xyz, abs=1e-6)
    lab = colour.XYZ_to_Lab(xyz / 100.0, white)
    assert lab_from_reflectance(R, light, observer) == pytest.approx(lab, abs=1e-6)


def test_ciede2000_of_random_pairs(colour: ModuleType) -> None:
    rng = np.random.default_rng(7)
    one = rng.uniform((0, -100, -100), (100, 100, 100), (5000, 3))
    two = rng.uniform((0, -100, -100), (100, 100, 100), (5000, 3))
    reference = colour.delta_E(one, two, method="CIE 2000")
    assert delta_e_2000(one, two) == pytest.approx(reference, abs=1e-9)


def test_srgb(colour: ModuleType) -> None:
    rgb = np.random.default_rng(8).integers(0, 256, (50, 3))
    ours = np.array([lab_from_hex(f"#{r:02x}{g:02x}{b:02x}") for r, g, b in rgb])
    xyz = colour.sRGB_to_XYZ(rgb / 255.0)
    # CIELAB is taken relative to the white of the same matrix, as ours is.
    reference = lab_from_relative(xyz / colour.sRGB_to_XYZ(np.ones(3)))
    assert ours == pytest.approx(reference, abs=0.02)


def specification(hue: float, value: float, chroma: float) -> np.ndarray:
    """Hue 0-100 as colour-science counts: B is family 1, then against our order to PB 10."""
    family, step = divmod(hue, 10.0)
    return np.array([step, value, chroma, (7, 6, 5, 4, 3, 2, 1, 10, 9, 8)[int(family)]])


def test_munsell_to_xyY(colour: ModuleType) -> None:
    """Values 1 to 9, where both are defined alike.

    Above 9 we interpolate to the renotation's own data at value 10, where colour-science lets
    every chroma fade to the white point; below 1 it has nothing.
    """
    rng = np.random.default_rng(9)
    # Two decimals, because colour-science takes a value within 0.001 of a table for that table.
    hue, value = rng.uniform(0, 100, 60).round(2), rng.uniform(1, 9, 60).round(2)
    chroma = np.minimum(rng.uniform(0.2, 14, 60).round(2), greatest_chroma(hue, value))
    ours = xy_offset(hue, value, chroma) + WHITE_C_XY
    compared = 0
    for h, V, C, xy in zip(hue, value, chroma, ours, strict=True):
        try:
            reference = colour.notation.munsell.munsell_specification_to_xyY(specification(h, V, C))
        except ValueError:
            # Near the rim colour-science asks for tabulated data on every side and gives up.
            continue
        compared += 1
        assert xy == pytest.approx(reference[:2], abs=1e-6)
        assert float(luminance_from_value(V)) == pytest.approx(100.0 * reference[2], abs=1e-9)
    assert compared > 50


@pytest.mark.parametrize("notation", ["5R 4/12", "2.5Y 8/11", "7.5GY 6/3", "N5"])
def test_xyY_to_munsell(colour: ModuleType, notation: str) -> None:
    """Both inverses of one chromaticity; colour-science prints one decimal."""
    xyY = colour.munsell_colour_to_xyY(notation)
    theirs = colour.xyY_to_munsell_colour(xyY, hue_decimals=1, value_decimals=1, chroma_decimals=1)
    lab = lab_from_munsell(notation)
    ours = notation_of(lab)
    assert ours.replace(" ", "") == theirs.replace(" ", "").replace(".0", "")


def test_bradford_is_what_carries_illuminant_c_to_d65(colour: ModuleType) -> None:
    xyY = colour.munsell_colour_to_xyY("7.5B 5/8")
    white_c = colour.xy_to_XYZ(np.array(WHITE_C_XY))
    matrix = colour.adaptation.matrix_chromatic_adaptation_VonKries(
        white_c, white_xyz() / 100.0, transform="Bradford"
    )
    reference = lab_from_xyz(100.0 * matrix @ colour.xyY_to_XYZ(xyY))
    assert lab_from_munsell("7.5B 5/8") == pytest.approx(reference, abs=0.01)


def test_our_hue_numbers_and_theirs_name_the_same_hues(colour: ModuleType) -> None:
    for hue in (3.0, 17.5, 48.0, 66.0, 94.0):
        theirs = colour.notation.munsell.munsell_specification_to_munsell_colour(
            specification(hue, 5.0, 4.0)
        )
        assert munsell_from_hvc(hue, 5.0, 4.0).replace(" ", "") == theirs.replace(" ", "").replace(
            ".0", ""
        )
