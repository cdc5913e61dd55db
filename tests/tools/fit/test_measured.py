"""Published measurements, brought to the package's unit."""

from __future__ import annotations

import numpy as np
import pytest

from tools.fit.acrylics import acrylic, published, white
from tools.fit.colours import by_mass, by_volume, colours
from tools.fit.measured import curves, measured
from tools.fit.mie import rutile, scattering_power, zinc_oxide
from tools.fit.oils import samples, skin, zinc_white
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.pigments.density import paint_density
from tubewise.pigments.models import optics
from tubewise.pigments.trust import PUBLISHED

AT_560 = int(np.flatnonzero(WAVELENGTHS_NM == 560.0)[0])


@pytest.mark.slow
def test_all_19_acrylics_are_attached_to_pigments() -> None:
    names = {name for found in measured() if found.source == "acrylics" for name in found.samples}
    assert names == set(published()) and len(names) == 19


def test_the_white_reads_as_a_film_does_and_scatters_less_towards_red() -> None:
    paper = white()
    assert colours(paper.K, paper.S)[0] == pytest.approx(98.2, abs=0.01)
    assert paper.S[AT_560] == pytest.approx(1.0)
    assert paper.S[WAVELENGTHS_NM == 700.0] == pytest.approx(0.8)


@pytest.mark.parametrize("name", ["PB29", "PV19/gamma", "PG7"])
def test_a_tint_by_mass_is_the_tables_tint(name: str) -> None:
    """What the table says of weighed parts comes out again once parts are turned to volumes."""
    K, S = published()[name]
    K_white, S_white = published()["PW6"]
    for grams in (0.05, 0.3, 1.0):
        table = colours(grams * K + (1 - grams) * K_white, grams * S + (1 - grams) * S_white)
        ours_K, ours_S = acrylic(name, name)
        share = float(by_volume(grams, name, white()))
        paper = white()
        ours = colours(
            share * ours_K + (1 - share) * paper.K, share * ours_S + (1 - share) * paper.S
        )
        # The white's own K, which is raised to a real film's, costs pale tints up to 1.5 in L*.
        assert np.abs(ours - table).max() < 1.6


def test_parts_by_mass_and_by_volume_undo_each_other() -> None:
    shares = np.array([0.01, 0.3, 0.9])
    assert np.allclose(by_mass(by_volume(shares, "PO20", white()), "PO20", white()), shares)
    light = paint_density("PV19") < white().density
    assert (by_volume(shares, "PV19", white()) > shares).all() == light


@pytest.mark.slow
def test_measured_curves_are_the_shipped_ones() -> None:
    for ref, found in curves().items():
        shipped = optics(ref)
        assert shipped.basis == PUBLISHED
        assert np.allclose(shipped.K, found.K, rtol=1e-3)
        assert np.allclose(shipped.S, found.S, rtol=1e-3)


def test_the_old_oils_have_their_cards() -> None:
    assert len(samples()) == 68
    for sample in samples().values():
        assert set(sample.over) == set(sample.bare) == {"black", "white"}
        assert sample.bare["black"].mean() == pytest.approx(0.05, abs=0.003)
        assert sum(sample.parts.values()) == pytest.approx(100.0)


def test_a_film_darker_than_its_gloss_gets_a_smaller_constant() -> None:
    assert skin(["11A"]).k1 < 0.022
    assert skin(["07A"]).k1 == 0.03


def test_zinc_white_scatters_as_mies_theory_has_it() -> None:
    """Zinc oxide of a quarter micrometre falls as the square of wavelength; so does the film."""

    def power(low: float, high: float) -> float:
        return float(-np.log(low / high) / np.log(450.0 / 650.0))

    S = dict(zip(WAVELENGTHS_NM, zinc_white().S, strict=True))
    theory = [scattering_power(nm, 0.25, 1.5, zinc_oxide) for nm in (450.0, 650.0)]
    assert power(S[450.0], S[650.0]) == pytest.approx(power(*theory), abs=0.25)


def test_hiding_by_mass_is_mies_too() -> None:
    """Rutile 150 against zinc oxide 20 (from memory of the trade's tables)."""
    by_volume_ratio = scattering_power(560.0, 0.25, 1.5, zinc_oxide) / scattering_power(
        560.0, 0.22, 1.35, rutile
    )
    assert by_volume_ratio * 4.2 / 5.6 == pytest.approx(20.0 / 150.0, rel=0.15)


def test_rutile_scatters_as_the_first_power_of_wavelength() -> None:
    blue, red = (scattering_power(nm, 0.22, 1.35, rutile) for nm in (450.0, 650.0))
    assert np.log(blue / red) / np.log(650.0 / 450.0) == pytest.approx(1.0, abs=0.05)
