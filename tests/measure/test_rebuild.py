"""Known K and S come back from synthetic drawdowns, judged on mixtures the fit has never seen."""

from __future__ import annotations

import numpy as np
import pytest

from tests.measure.synthetic_drawdowns import (
    Known,
    files,
    film,
    lab_of_mixture,
    masstone_and_tints,
    paint,
    white,
)
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance
from tubewise.measure.drawdowns import drawdown_set
from tubewise.measure.learn import learn
from tubewise.measure.measured import MeasuredOptics
from tubewise.measure.references import Optics
from tubewise.optics.film import BLACK_GROUND, MICRONS_PER_UNIT, WHITE_GROUND, opaque_reflectance
from tubewise.optics.surface import Surface, measured_from_internal

WHITE = Optics(white().K, white().S, "the white")


def learnt(rows: list[tuple[str, np.ndarray]], **how: object) -> MeasuredOptics:
    return learn(drawdown_set(files(rows)), white=WHITE, **how)  # type: ignore[arg-type]


def unseen(truth: list[Known], found: list[Known], rng: np.random.Generator, n: int) -> np.ndarray:
    """CIEDE2000 of n mixtures of one to four paints of which some may be the white."""
    out = []
    for _ in range(n):
        pick = rng.choice(len(truth), rng.integers(1, 5), replace=False)
        parts = rng.integers(1, 9, len(pick)).tolist()
        out.append(
            delta_e_2000(
                lab_of_mixture([truth[i] for i in pick], parts),
                lab_of_mixture([found[i] for i in pick], parts),
            )
        )
    return np.array(out)


@pytest.mark.slow
def test_without_noise_unseen_mixtures_are_met_to_a_tenth() -> None:
    rng = np.random.default_rng(5)
    truth = [paint(rng) for _ in range(12)]
    fits = [learnt(masstone_and_tints(p)) for p in truth]
    found = [Known(m.K, m.S) for m in fits]
    assert unseen([*truth, white()], [*found, white()], rng, 300).max() < 0.1


def test_masstone_and_one_tint_without_noise_are_enough() -> None:
    rng = np.random.default_rng(6)
    truth = [paint(rng) for _ in range(8)]
    fits = [learnt(masstone_and_tints(p, ratios=(4,))) for p in truth]
    assert unseen(truth, [Known(m.K, m.S) for m in fits], rng, 100).max() < 0.1
    assert all("third would check" in " ".join(m.not_learned) for m in fits)


@pytest.mark.slow
def test_with_an_instruments_noise_and_a_painters_parts() -> None:
    """0.2 % absolute reflectance and 2 % in the parts: median 1.0, 95th percentile 2.5."""
    rng = np.random.default_rng(7)
    truth = [paint(rng) for _ in range(30)]
    fits = [learnt(masstone_and_tints(p, rng=rng, noise=0.002, parts_error=0.02)) for p in truth]
    errors = unseen([*truth, white()], [*(Known(m.K, m.S) for m in fits), white()], rng, 1000)
    median, high = np.percentile(errors, [50, 95])
    assert median < 1.0
    assert high < 2.5


@pytest.mark.slow
def test_the_stated_uncertainty_holds_the_truth() -> None:
    """95 % of tints and masstones should lie within the fit's own 95 % interval, as CIEDE2000."""
    rng = np.random.default_rng(8)
    inside = []
    for _ in range(30):
        p = paint(rng)
        m = learnt(masstone_and_tints(p, (2, 8), rng, noise=0.002, parts_error=0.02))
        K, S = m.draws(200, rng)
        for n in (0.0, 0.5, 4.0, 20.0):
            w = white()

            def lab(K: np.ndarray, S: np.ndarray, n: float = n, w: Known = w) -> np.ndarray:
                q = opaque_reflectance((K + n * w.K) / (1 + n), (S + n * w.S) / (1 + n))
                return lab_from_reflectance(measured_from_internal(q))

            stack = lab(K, S)
            reach = np.percentile(delta_e_2000(stack[1:], stack[0]), 95)
            inside.append(delta_e_2000(lab(p.K, p.S), stack[0]) <= reach)
    assert 0.85 <= np.mean(inside) <= 1.0


@pytest.mark.slow
def test_on_the_registers_pigments(monkeypatch: pytest.MonkeyPatch) -> None:
    """As above with modelled pigments for truth, glazes and blacks among them."""
    from tests.measure import synthetic_drawdowns
    from tubewise.measure.references import modelled_white
    from tubewise.pigments.models import optics
    from tubewise.pigments.register import load

    w = modelled_white()
    titanium = Known(w.K, w.S)
    monkeypatch.setattr(synthetic_drawdowns, "white", lambda: titanium)
    rng = np.random.default_rng(1)
    codes = [p.code for p in load() if p.needs != "suffix" and not p.code.startswith("PW")]
    truth = [Known(o.K, o.S) for o in map(optics, rng.choice(codes, 40, replace=False))]
    found = []
    for p in truth:
        rows = masstone_and_tints(p, rng=rng, noise=0.002, parts_error=0.02)
        m = learn(drawdown_set(files(rows)))
        found.append(Known(m.K, m.S))
    errors = unseen([*truth, titanium], [*found, titanium], rng, 600)
    assert np.median(errors) < 0.3
    assert np.percentile(errors, 95) < 1.2


def test_common_errors_are_found_out() -> None:
    """A tint mixed 6 % too strong among six is told from the spectra, and mended."""
    rng = np.random.default_rng(9)
    p = paint(rng)
    rows = masstone_and_tints(p)
    rows[3] = (rows[3][0], film(p, 4 / 1.06))
    m = learnt(rows)
    errors = {f.sample: f.parts_error for f in m.films}
    assert errors["tint 1:4"] == pytest.approx(1.045, abs=0.02)
    assert max(abs(v - 1) for k, v in errors.items() if k != "tint 1:4") < 0.03


def test_film_thickness_is_found_from_black_and_white() -> None:
    rng = np.random.default_rng(10)
    p = paint(rng)
    rows = [
        *masstone_and_tints(p, (1, 8)),
        ("masstone over black", film(p, X=2.0, ground=BLACK_GROUND)),
        ("masstone over white", film(p, X=2.0, ground=WHITE_GROUND)),
    ]
    m = learnt(rows)
    thick = [f.thickness for f in m.films if f.thickness is not None]
    assert thick == pytest.approx([2.0, 2.0], rel=0.01)
    np.testing.assert_allclose(m.K, p.K, rtol=0.02)


def test_a_pair_over_black_and_white_alone_gives_both_constants_at_the_told_thickness() -> None:
    p = paint(np.random.default_rng(2))
    X = 6.0 / MICRONS_PER_UNIT
    rows = [
        ("masstone over black 6 um", film(p, X=X, ground=BLACK_GROUND)),
        ("masstone over white 6 um", film(p, X=X, ground=WHITE_GROUND)),
    ]
    m = learnt(rows)
    assert m.level == "two constants"
    np.testing.assert_allclose(m.K, p.K, rtol=0.02)
    assert any("tinting strength" in words for words in m.not_learned)


def test_saunderson_constants_are_fitted_when_asked() -> None:
    p = paint(np.random.default_rng(12))
    truth = Surface(0.036, 0.6)
    rows = [
        *[(f"tint 1:{n}", film(p, n, surface=truth)) for n in (1, 3, 10, 30)],
        ("masstone", film(p, surface=truth)),
        ("masstone over black 30 um", film(p, X=2.0, ground=BLACK_GROUND, surface=truth)),
        ("masstone over white 30 um", film(p, X=2.0, ground=WHITE_GROUND, surface=truth)),
    ]
    fixed, free = learnt(rows), learnt(rows, fit_surface=True)
    assert free.surface == pytest.approx((0.036, 0.6), abs=0.01)
    assert free.worst_delta_e00 <= fixed.worst_delta_e00 + 1e-6


def test_specular_excluded_gives_the_same_paint() -> None:
    p = paint(np.random.default_rng(13))
    out = Surface(specular_included=False)
    rows = [("masstone", film(p, surface=out)), ("tint 1:4", film(p, 4, surface=out))]
    m = learn(drawdown_set(files(rows, specular="excluded")), white=WHITE)
    np.testing.assert_allclose(m.K, p.K, rtol=1e-3)


def test_by_weight_with_densities() -> None:
    """Paint of 1.2 g/ml and white of 1.8: 1:3 by weight is 1:2 by volume."""
    p = paint(np.random.default_rng(14))
    rows = [("masstone", film(p)), ("tint 1:3 by weight", film(p, 2.0))]
    m = learn(drawdown_set(files(rows), density=1.2, white_density=1.8), white=WHITE)
    np.testing.assert_allclose(m.K, p.K, rtol=1e-3)
    assert not any("dens" in words for words in m.assumed)
    guessed = learnt(rows)
    assert any("equally dense" in words for words in guessed.assumed)
    assert np.log(guessed.draws(300, np.random.default_rng(0))[0]).std(0).mean() > 0.1


def test_an_instrument_that_starts_at_400_is_told_and_carried_on() -> None:
    p = paint(np.random.default_rng(15))
    from tests.measure.synthetic_drawdowns import spectrum
    from tubewise.colour.grid import WAVELENGTHS_NM
    from tubewise.measure.spectra import Spectra

    part = slice(2, 33)
    rows = [
        spectrum(name, R[part], wavelengths=WAVELENGTHS_NM[part])
        for name, R in masstone_and_tints(p)
    ]
    m = learn(drawdown_set([Spectra(tuple(rows))]), white=WHITE)
    np.testing.assert_allclose(m.K[part], p.K[part], rtol=1e-3)
    assert m.K[0] == m.K[1] == m.K[2]
    assert m.local[0, 0, 0] > m.local[3, 0, 0]
    assert any("below 400 nm and above 700 nm" in words for words in m.warnings)
    lab = [lab_of_mixture([Known(*k), white()], (1, 4)) for k in ((m.K, m.S), (p.K, p.S))]
    assert delta_e_2000(*lab) < 0.3
