"""Measured Munsell chips through the whole chain, against the notation on their labels.

Data: reflectances of 1,269 matt painted chips, University of Eastern Finland, from the data files
of luxpy (whose code is not used).
"""

from __future__ import annotations

import csv
from importlib.util import find_spec
from pathlib import Path

import numpy as np
import pytest

from tools.weights import make_weights
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance, lab_from_relative
from tubewise.colour.munsell import d65_from_c, hvc_from_lab, hvc_from_munsell
from tubewise.colour.renotation import WHITE_C_XY, luminance_from_value
from tubewise.colour.xyz import xyz_from_reflectance

LUXPY = find_spec("luxpy")
pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(LUXPY is None, reason="luxpy's data files are not installed"),
]


@pytest.fixture(scope="module")
def chips() -> tuple[np.ndarray, np.ndarray]:
    """Reflectances (1269, 36) on our grid and labels (1269, 3) as hue 0-100, value, chroma."""
    assert LUXPY is not None
    assert LUXPY.origin is not None
    folder = Path(LUXPY.origin).parent / "data" / "rfls"
    table = np.loadtxt(folder / "Munsell1269.dat", delimiter=",")
    R = table[np.searchsorted(table[:, 0], WAVELENGTHS_NM), 1:].T
    with (folder / "Munsell1269NotationInfo.dat").open(encoding="utf-8") as lines:
        labels = [hvc_from_munsell(f"{r['H']} {r['V']}/{r['C']}") for r in csv.DictReader(lines)]
    return R, np.array(labels)


def misses(R: np.ndarray, labels: np.ndarray) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """Miss in hue along the circle, in units of chroma; in value; in chroma."""
    found = hvc_from_lab(lab_from_reflectance(R))
    turn = (found[:, 0] - labels[:, 0] + 50.0) % 100.0 - 50.0
    arc = np.radians(3.6 * turn) * labels[:, 2]
    return arc, found[:, 1] - labels[:, 1], found[:, 2] - labels[:, 2]


def test_chips_as_measured(chips: tuple[np.ndarray, np.ndarray]) -> None:
    """As measured, hue is right and value and chroma run low by one common scale.

    Hue, in steps of 100 around the circle: median miss 0.4, 95 % within 2.2, worst 6.9 (at chroma
    1, where a step is 0.06 of chroma); at chroma 6 and above 95 % within 1.2, worst 2.4. Along the
    circle in units of chroma: median 0.10, 95 % within 0.44, worst 1.2; the charts step by 2.
    Value: median -0.29, worst 0.63. Chroma: median -0.36, 95 % within 1.34, worst 2.4.
    The luminance of the chips is 0.87 of what their labels say, plus 0.7 (perfect white 100), at
    every value alike: the scale of the measurement, not of the notation (next test).
    """
    arc, value, chroma = misses(*chips)
    assert len(arc) == 1269
    assert np.percentile(np.abs(arc), 95) < 0.5
    assert np.abs(arc).max() < 1.3
    assert -0.32 < np.median(value) < -0.26
    assert np.abs(value).max() < 0.65
    assert np.percentile(np.abs(chroma), 95) < 1.4
    assert np.abs(chroma).max() < 2.5


def test_chips_on_the_scale_of_their_labels(chips: tuple[np.ndarray, np.ndarray]) -> None:
    """One factor and one veil of light for all 1,269 chips bring every value within 0.31.

    The two numbers are fitted to luminance only, so chroma and hue are free to disagree.
    Value: median miss 0.05, 95 % within 0.16, worst 0.30; the charts step by 1.
    Chroma: median 0.13, 95 % within 0.70, 99 % within 1.2, worst 2.05 (10RP 7/2, which measures
    as chroma 4); the charts step by 2. Hue as in the test above.
    Tolerance justified: half a chart step in value (0.5) for all and in chroma (1.0) for 97 %.
    """
    R, labels = chips
    measured = xyz_from_reflectance(R)[:, 1]
    labelled = luminance_from_value(labels[:, 1])
    design = np.stack((labelled, np.ones_like(labelled)), axis=1) / np.sqrt(labelled)[:, None]
    (factor, veil), *_ = np.linalg.lstsq(design, measured / np.sqrt(labelled))
    assert factor == pytest.approx(0.867, abs=0.002)
    assert veil == pytest.approx(0.72, abs=0.02)
    arc, value, chroma = misses((R - veil / 100.0) / factor, labels)
    assert np.percentile(np.abs(value), 95) < 0.17
    assert np.abs(value).max() < 0.5
    assert np.mean(np.abs(chroma) <= 1.0) > 0.97
    assert np.abs(np.median(chroma)) < 0.1
    assert np.percentile(np.abs(arc), 95) < 0.5
    assert np.abs(arc).max() < 1.3


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore::Warning")
def test_bradford_stands_in_well_for_seeing_the_chips_under_illuminant_c(
    chips: tuple[np.ndarray, np.ndarray],
) -> None:
    """Under C itself, computed from the spectra, against Bradford from D65.

    CIEDE2000: median 0.19, 95 % within 0.53, worst 0.80. CAT02, CAT16 and CMCCAT2000 have a
    median of 0.17-0.24 and a worst of 0.92-0.93; Bradford has the best worst case.
    """
    weights = make_weights("C", "2")
    relative = (chips[0] @ weights) / weights.sum(axis=0)
    seen = lab_from_relative(relative)
    white_c = np.array([WHITE_C_XY[0], WHITE_C_XY[1], 1.0 - sum(WHITE_C_XY)]) / WHITE_C_XY[1]
    adapted = xyz_from_reflectance(chips[0]) @ np.linalg.inv(d65_from_c()).T / 100.0
    delta = delta_e_2000(seen, lab_from_relative(adapted / white_c))
    assert np.median(delta) < 0.25
    assert np.percentile(delta, 95) < 0.6
    assert delta.max() < 0.9
