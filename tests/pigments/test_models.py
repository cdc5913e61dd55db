"""The pigments' optics as other layers meet them, modelled and measured."""

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
from tubewise.pigments.models import (
    DATA,
    format_terms,
    optics,
    parse_terms,
    read_models,
    samples,
    spread,
    stack,
)
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.trust import MODELLED, PUBLISHED

EVERY_REF = load().refs


def test_every_colour_of_the_register_has_a_physical_model() -> None:
    K, S = stack(EVERY_REF)
    assert K.shape == S.shape == (len(EVERY_REF), 36)
    assert np.isfinite(K).all() and np.isfinite(S).all()
    assert (K > 0.0).all() and (S > 0.0).all()
    # Nothing scatters much better than titanium white, or absorbs without limit.
    assert S.max() < 3.0 and K.max() < 30.0


@pytest.mark.parametrize("file", ["models.csv", "spreads.csv"])
def test_no_model_stands_outside_the_register(file: str) -> None:
    assert set(read_models(DATA / file)) == set(EVERY_REF)


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
        ("basis", "guessed", "modelled, measured"),
    ],
)
def test_a_spoilt_row_names_the_pigment(
    column: str, value: str, says: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    row = read_models(DATA / "models.csv")["PB60"] | {column: value}
    monkeypatch.setattr(models, "_rows", lambda: {"PB60": row})
    optics.cache_clear()
    with pytest.raises(UserError, match=f"PB60.*{says}"):
        optics("PB60")
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
        found.ref = Ref("PB28")  # type: ignore[misc]


@pytest.mark.parametrize("ref", ["PM1", "PM2/gold", "PW20/pearl", "BV10", "BY40"])
def test_what_the_theory_cannot_do_is_said(ref: str) -> None:
    found = optics(ref)
    assert found.confidence == "low"
    assert found.note.startswith("not modelled:")


def test_every_pigment_names_its_source_and_what_determined_it() -> None:
    for ref in EVERY_REF:
        found = optics(ref)
        published = found.basis == PUBLISHED
        assert found.basis in (MODELLED, PUBLISHED)
        assert found.source.startswith("measured/" if published else "fitted to optics_facts.csv: ")
        assert "absorption" in found.determined and "scattering" in found.determined


def test_what_was_published_counts_as_measured() -> None:
    assert optics("PV19").basis == PUBLISHED
    assert optics("PB15:3").basis == PUBLISHED
    assert optics("PR106").basis == PUBLISHED
    assert optics("PR108/medium").basis == MODELLED
    assert optics("PR108/light").basis == PUBLISHED
    assert optics("PV19").shape is None and optics("PR209").shape is not None


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
    assert optics("PB29").confidence == "high" and optics("NBr7").confidence == "low"
    assert np.trace(spread("NBr7").unknown) > 1.5 * np.trace(spread("PB29").unknown)


def test_what_is_fired_or_dug_differs_more_from_maker_to_maker() -> None:
    assert (spread("PR108").makers >= spread("PB15:3").makers).all()
    assert spread("PW6").load < spread("PB15:3").load


def test_one_crystal_is_one_kin() -> None:
    assert spread("PB15:3").kin == spread("PB15:4").kin != spread("PB15:1").kin
    assert spread("PV19/beta").kin != spread("PV19/gamma").kin
    assert spread("PV19/beta").family == spread("PR209").family


def test_a_pigment_without_a_spread_says_how_to_make_one(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(models, "_spread_rows", dict)
    spread.cache_clear()
    with pytest.raises(UserError, match=r"tools\.fit"):
        spread("PB28")
    monkeypatch.setattr(
        models,
        "_spread_rows",
        lambda: {"PB28": {"family": "", "kin": "", "unknown": "1 2", "makers": "0"}},
    )
    with pytest.raises(UserError, match="bad spread of PB28"):
        spread("PB28")
    spread.cache_clear()


def test_models_load_without_scipy() -> None:
    """The fit needs SciPy; reading its result must not, since that costs a third of a second."""
    code = (
        "import sys, tubewise.pigments.models as m; m.optics('PB29'); print('scipy' in sys.modules)"
    )
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert out.stdout.strip() == "False"


def test_terms_survive_writing_and_reading() -> None:
    terms = np.array([[612.3, 27.25, 0.1234], [712.0, 28.0, 1.5]])
    assert np.allclose(parse_terms(format_terms(terms)), terms)
    assert parse_terms("").shape == (0, 3)
