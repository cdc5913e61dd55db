"""The optical models as other layers meet them."""

from __future__ import annotations

import csv
import subprocess
import sys
from dataclasses import FrozenInstanceError
from pathlib import Path

import numpy as np
import pytest

from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.errors import UserError
from tubewise.pigments import models
from tubewise.pigments.curves import absorption, bands_sum, edges_sum, scattering
from tubewise.pigments.models import (
    DATA,
    Shape,
    Sigmas,
    draw,
    format_terms,
    optics,
    parse_terms,
    read_models,
    samples,
    stack,
)
from tubewise.pigments.register import load

EVERY_REF = load().refs


def test_every_colour_of_the_register_has_a_physical_model() -> None:
    K, S = stack(EVERY_REF)
    assert K.shape == S.shape == (len(EVERY_REF), 36)
    assert np.isfinite(K).all() and np.isfinite(S).all()
    assert (K > 0.0).all() and (S > 0.0).all()
    # Nothing scatters much better than titanium white, or absorbs without limit.
    assert S.max() < 3.0 and K.max() < 30.0


def test_no_model_stands_outside_the_register() -> None:
    assert set(read_models(DATA / "models.csv")) == set(EVERY_REF)


def test_titanium_white_is_the_unit_of_scattering() -> None:
    white = optics("PW6")
    assert white.S[list(WAVELENGTHS_NM).index(560)] == pytest.approx(1.0, abs=1e-6)
    assert white.K[5:].max() < 0.01


def test_a_code_without_its_form_means_the_default_form() -> None:
    assert optics("PV19") is not None
    assert optics("PV19").ref == "PV19/gamma"
    assert np.array_equal(optics("PV19").K, optics("PV19/gamma").K)
    assert not np.array_equal(optics("PV19").K, optics("PV19/beta").K)


def test_unknown_pigments_are_refused_with_a_hint() -> None:
    with pytest.raises(UserError, match="not in the register"):
        optics("PZ99")


def test_a_pigment_without_a_model_says_how_to_make_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(models, "_rows", dict)
    optics.cache_clear()
    with pytest.raises(UserError, match=r"optics_facts\.csv"):
        optics("PB28")
    optics.cache_clear()


@pytest.mark.parametrize(
    ("column", "value", "says"),
    [
        ("bands", "600 20", "three numbers"),
        ("floor", "1", "floor is two numbers"),
        ("confidence", "certain", "high, medium, low"),
    ],
)
def test_a_spoilt_row_names_the_pigment(
    column: str, value: str, says: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    row = read_models(DATA / "models.csv")["PB28"] | {column: value}
    monkeypatch.setattr(models, "_rows", lambda: {"PB28": row})
    optics.cache_clear()
    with pytest.raises(UserError, match=f"PB28.*{says}"):
        optics("PB28")
    optics.cache_clear()


def test_a_pigment_modelled_twice_is_refused(tmp_path: Path) -> None:
    rows = list(csv.reader((DATA / "models.csv").open(encoding="utf-8", newline="")))
    path = tmp_path / "models.csv"
    with path.open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([*rows[:2], rows[1]])
    with pytest.raises(UserError, match=r"line 3.*twice"):
        read_models(path)


def test_optics_cannot_be_changed_by_accident() -> None:
    found = optics("PB29")
    with pytest.raises(ValueError, match="read-only"):
        found.K[0] = 1.0
    with pytest.raises(FrozenInstanceError):
        found.ref = "PB28"  # type: ignore[misc]


@pytest.mark.parametrize("ref", ["PM1", "PM2/gold", "PW20/pearl", "BV10", "BY40"])
def test_what_the_theory_cannot_do_is_said(ref: str) -> None:
    found = optics(ref)
    assert found.confidence == "low"
    assert found.note.startswith("not modelled:")


def test_every_model_names_its_source() -> None:
    assert all(optics(ref).source.startswith("fitted to optics_facts.csv: ") for ref in EVERY_REF)


def test_an_empty_stack_has_the_right_shape() -> None:
    K, S = stack([])
    assert K.shape == S.shape == (0, 36)


def test_samples_scatter_about_the_model_and_repeat_with_the_same_seed() -> None:
    K, S = samples("PR122", 500, np.random.default_rng(7))
    again, _ = samples("PR122", 500, np.random.default_rng(7))
    assert K.shape == S.shape == (500, 36)
    assert np.array_equal(K, again)
    assert (K > 0.0).all() and (S > 0.0).all()
    middle = np.median(K, axis=0)
    assert np.abs(np.log(middle / optics("PR122").K)).max() < 0.15


def test_low_confidence_scatters_more_than_high() -> None:
    rng = np.random.default_rng(1)

    def spread(ref: str) -> float:
        K, _ = samples(ref, 400, rng)
        return float(np.log(K).std(axis=0).mean())

    assert optics("PB29").confidence == "high" and optics("NBr7").confidence == "low"
    assert spread("NBr7") > 1.5 * spread("PB29")


def test_without_sigmas_every_sample_is_the_model() -> None:
    found = optics("PG7")
    K, S = draw(found.shape, Sigmas(0, 0, 0, 0, 0, 0), 3, np.random.default_rng(0))
    assert np.allclose(K, found.K) and np.allclose(S, found.S)


def test_load_alone_moves_absorption_and_scattering_together() -> None:
    found = optics("PB36")
    K, S = draw(found.shape, Sigmas(0.3, 0, 0, 0, 0, 0), 50, np.random.default_rng(0))
    assert np.allclose(K / found.K, S / found.S)
    assert found.load_sigma == found.sigmas.load > 0.0


def test_models_load_without_scipy() -> None:
    """The fit needs SciPy; reading its result must not, since that costs a third of a second."""
    code = (
        "import sys, tubewise.pigments.models as m; m.optics('PB29'); print('scipy' in sys.modules)"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "False"


# The curves themselves.

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


def test_scattering_follows_its_power_its_step_and_bronze() -> None:
    K = np.full(351, 2.0)
    plain = scattering(NM, np.array([0.5, 1.0, 500.0, 10.0, 1.0, 0.0]), K)
    assert plain[NM == 560.0] == pytest.approx(0.5)
    assert plain[0] / plain[-1] == pytest.approx(730.0 / 380.0)
    stepped = scattering(NM, np.array([0.5, 0.0, 550.0, 5.0, 0.4, 0.0]), K)
    assert stepped[0] == pytest.approx(0.2) and stepped[-1] == pytest.approx(0.5)
    bronzed = scattering(NM, np.array([0.5, 1.0, 500.0, 10.0, 1.0, 0.05]), K)
    assert np.allclose(bronzed - plain, 0.1)


def test_terms_survive_writing_and_reading() -> None:
    terms = np.array([[612.3, 27.25, 0.1234], [712.0, 28.0, 1.5]])
    assert np.allclose(parse_terms(format_terms(terms)), terms)
    assert parse_terms("").shape == (0, 3)


def test_a_shape_gives_both_curves_on_any_grid() -> None:
    shape = Shape(
        np.zeros((0, 3)), np.zeros((0, 3)), np.array([1.0, 0.0]), np.array([1, 0, 500, 10, 1, 0.0])
    )
    K, S = shape.curves(np.array([400.0, 700.0]))
    assert np.allclose(K, 1.0) and np.allclose(S, 1.0)
