"""One pigment fitted, to facts or to curves, and what remains unknown of it."""

from __future__ import annotations

import numpy as np
import pytest

from tools.fit.acrylics import white
from tools.fit.colours import AIMS, by_mass, colour_residual, tints_at_lightness
from tools.fit.facts import Fact
from tools.fit.families import read_families
from tools.fit.pigment import fit_curves, fit_pigment
from tools.fit.posterior import PRIOR, makers, root_of, unknown
from tubewise.pigments.models import Shape, optics
from tubewise.pigments.spread import LEVEL, SHIFT, STRENGTH

WHITE = white()
BLUE = read_families().of("PB60")
TRUTH = Shape(
    bands=np.array([[610.0, 30.0, 1.5]]),
    edges=np.zeros((0, 3)),
    floor=np.array([0.01, 1.0]),
    scatter=BLUE.scatter(None),
)
START = (
    Fact(ref="PB60", kind="bands", value="602 26 1", tolerance=1.0, source="made up"),
    Fact(ref="PB60", kind="floor", value="0.02 1", tolerance=1.0, source="made up"),
)


def polar(lab: np.ndarray) -> str:
    """Chroma and hue as a fact has them."""
    return f"{np.hypot(lab[1], lab[2])} {np.degrees(np.arctan2(lab[2], lab[1])) % 360.0}"


def facts_of(shape: Shape, tolerance: float) -> list[Fact]:
    """Masstone, tints and a share, as somebody would read them of a paint of this shape."""
    tints, shares, masstone = tints_at_lightness(*shape.curves(), WHITE, list(AIMS.values()))

    def fact(kind: str, value: str) -> Fact:
        return Fact(ref="PB60", kind=kind, value=value, tolerance=tolerance, source="made up")

    return [
        *START,
        fact("masstone", f"{masstone[0]} {polar(masstone)}"),
        *(
            fact(f"tint_{aim}", polar(lab))
            for aim, lab in zip(("L85", "L70", "L50"), tints, strict=True)
        ),
        fact("share_L70", str(float(by_mass(shares[1], "PB60", WHITE)))),
    ]


def test_the_fit_finds_a_known_pigment_again() -> None:
    """From a start that is off in every number."""
    found = fit_pigment(facts_of(TRUTH, 0.05), BLUE, WHITE)
    assert found.bands[0, 0] == pytest.approx(610.0, abs=2.0)
    assert found.bands[0, 2] == pytest.approx(1.5, rel=0.15)


def test_the_fit_finds_measured_curves_again() -> None:
    K, S = TRUTH.curves()
    found, habits = fit_curves(START, BLUE, K, S, WHITE)
    k, s = found.curves()
    # The band is wider than the start's, and there is no edge.
    assert habits[2] == pytest.approx(np.log(30.0 / 26.0), abs=0.03)
    assert np.isnan(habits[1])
    assert np.abs(np.log(k / K)).max() < 0.1
    assert np.abs(np.log(s / S)).max() < 0.2


def test_facts_take_away_what_they_would_show() -> None:
    K, S = TRUTH.curves()
    none = unknown(START, BLUE, K, S, WHITE, 1.0)
    some = unknown(facts_of(TRUTH, 1.0), BLUE, K, S, WHITE, 1.0)
    sure = unknown(facts_of(TRUTH, 0.1), BLUE, K, S, WHITE, 1.0)
    assert np.allclose(np.diag(none)[[STRENGTH, SHIFT]], PRIOR[[STRENGTH, SHIFT]])
    assert none[LEVEL, LEVEL] == pytest.approx(BLUE.spread[0])
    for name in (STRENGTH, SHIFT):
        widths = [float(np.linalg.norm(root[name])) for root in (none, some, sure)]
        assert widths[0] > widths[1] > widths[2]
    assert np.allclose(some, some.T)


def test_a_root_squared_is_its_covariance() -> None:
    rng = np.random.default_rng(1)
    half = rng.standard_normal((5, 5))
    root = root_of(half @ half.T)
    assert np.allclose(root @ root, half @ half.T)


def test_old_recipes_differ_more_than_molecules() -> None:
    assert (makers("NR4") >= makers("PR108/light")).all()
    assert (makers("PR108/light") >= makers("PV19/gamma")).all()


def test_tints_are_as_light_as_asked_or_as_near_as_the_paint_can_come() -> None:
    blue, yellow = optics("PB29"), optics("PY3")
    tints, shares, _ = tints_at_lightness(blue.K, blue.S, WHITE, [85.0, 70.0])
    assert np.allclose(tints[:, 0], [85.0, 70.0], atol=0.1)
    assert shares[0] < shares[1]
    tints, shares, masstone = tints_at_lightness(yellow.K, yellow.S, WHITE, [50.0])
    assert np.allclose(tints[0], masstone, atol=0.1) and shares[0] > 0.99
    none, _, _ = tints_at_lightness(yellow.K, yellow.S, WHITE, [])
    assert none.shape == (0, 3)


def test_a_colour_that_fits_leaves_no_residual() -> None:
    assert np.allclose(colour_residual(np.array([50.0, 0.0, 40.0]), 50.0, 40.0, 90.0), 0.0)
    # Chroma and hue count less in strong colours, and in darks.
    weak = colour_residual(np.array([50.0, 12.0, 0.0]), 50.0, 10.0, 0.0)[1]
    strong = colour_residual(np.array([50.0, 82.0, 0.0]), 50.0, 80.0, 0.0)[1]
    dark = colour_residual(np.array([20.0, 12.0, 0.0]), 20.0, 10.0, 0.0)[1]
    assert 0.0 < strong < weak
    assert 0.0 < dark < 0.5 * weak
