"""Sets that can't be right are refused, and the reason names the sample."""

from __future__ import annotations

import numpy as np
import pytest

from tests.measure.synthetic_drawdowns import (
    Known,
    files,
    film,
    masstone_and_tints,
    paint,
    spectrum,
    white,
)
from tubewise.errors import UserError
from tubewise.measure.drawdowns import drawdown_set
from tubewise.measure.learn import learn
from tubewise.measure.measured import MeasuredOptics
from tubewise.measure.references import Optics, modelled_white
from tubewise.measure.spectra import Spectra
from tubewise.optics.film import BLACK_GROUND, DRAWDOWN_FILM, WHITE_GROUND
from tubewise.optics.surface import Surface

WHITE = Optics(white().K, white().S, "the white")
Rows = list[tuple[str, np.ndarray]]


def red() -> Known:
    """An opaque strong red."""
    w = np.arange(380.0, 731.0, 10.0)
    return Known(0.02 + 4.0 / (1 + np.exp((w - 590) / 10)), np.full(36, 0.4))


def blue() -> Known:
    """A transparent strong blue."""
    w = np.arange(380.0, 731.0, 10.0)
    return Known(0.05 + 6.0 / (1 + np.exp(-(w - 520) / 20)), np.full(36, 0.05))


def fit(rows: Rows, **how: object) -> MeasuredOptics:
    return learn(drawdown_set(files(rows)), white=WHITE, **how)  # type: ignore[arg-type]


def refusal(rows: Rows) -> str:
    with pytest.raises(UserError) as told:
        fit(rows)
    return str(told.value)


def swapped(rows: Rows, i: int, j: int) -> Rows:
    out = list(rows)
    out[i], out[j] = (rows[i][0], rows[j][1]), (rows[j][0], rows[i][1])
    return out


@pytest.mark.parametrize("p", [red(), blue()])
def test_tints_in_the_wrong_order(p: Known) -> None:
    rows = masstone_and_tints(p, (1, 4, 16))
    assert "tints in the wrong order: tint 1:4" in refusal(swapped(rows, 2, 3))


def test_tints_all_the_wrong_way_round() -> None:
    rows = masstone_and_tints(red(), (1, 4, 16))
    assert "wrong way round" in refusal(swapped(rows, 1, 3))


def test_a_masstone_swapped_with_a_tint() -> None:
    rows = masstone_and_tints(red(), (1, 4, 16))
    assert "masstone is weaker than tint 1:1" in refusal(swapped(rows, 0, 1))
    assert "masstone is weaker than every tint" in refusal(swapped(rows, 0, 3))


def test_another_paints_file_among_the_tints() -> None:
    rows = masstone_and_tints(red(), (1, 2, 4, 8))
    rows[2] = ("tint 1:2", film(blue(), 2))
    assert "tint 1:2 doesn't agree with the others" in refusal(rows) or "tint 1:2" in refusal(rows)


@pytest.mark.slow
def test_one_drawdown_that_does_not_agree_is_named() -> None:
    """Tints of a like red with a second band: far off is refused, a little off is flagged."""
    w = np.arange(380.0, 731.0, 10.0)
    rows = masstone_and_tints(red(), (1, 2, 4, 8))
    for much, refused in ((3.0, True), (0.15, False)):
        bump = much * np.exp(-(((w - 640) / 25) ** 2))
        other = Known(red().K + bump, red().S)
        mixed = [*rows[:3], ("tint 1:4", film(other, 4)), rows[4]]
        if refused:
            assert "tint 1:4 doesn't agree with the others" in refusal(mixed)
        else:
            (words,) = (v for v in fit(mixed).warnings if "agree" in v)
            assert words.startswith("tint 1:4 doesn't agree with the others")


def test_two_drawdowns_of_different_paints() -> None:
    """Two unknowns meet any two readings, but not with scattering that paint has."""
    words = refusal([("masstone", film(red())), ("tint 1:4", film(blue(), 4))])
    assert "times as much as the white" in words
    pale = Known(red().K, 4 * white().S)
    assert any("none does" in w for w in fit(masstone_and_tints(pale, (4,))).warnings)


def test_a_masstone_that_is_not_opaque() -> None:
    """On a white card a thin film looks weaker than its tints, on a black one it disagrees."""
    rows = masstone_and_tints(blue(), (1, 4, 16))
    rows[0] = ("masstone", film(blue(), X=0.05, ground=WHITE_GROUND))
    words = refusal(rows)
    assert "masstone is weaker than" in words and "white card shows through" in words


def test_whether_a_lone_masstone_was_opaque_is_not_learnt() -> None:
    """A thin glaze over white passes for a thick film that scatters; over black too, it doesn't."""
    glaze = Known(blue().K / 32, blue().S / 4)
    rows = masstone_and_tints(glaze, (1, 4, 16))
    rows[0] = ("masstone", film(glaze, X=DRAWDOWN_FILM, ground=WHITE_GROUND))
    m = fit(rows)
    assert any("read it over black and over white" in w for w in m.not_learned)
    rows[0] = ("masstone over white", rows[0][1])
    m = fit([*rows, ("masstone over black", film(glaze, X=DRAWDOWN_FILM, ground=BLACK_GROUND))])
    assert not any("opaque" in w for w in m.not_learned)
    np.testing.assert_allclose(m.S, glaze.S, rtol=0.02)


def test_readings_above_100_and_below_0_per_cent() -> None:
    rows = masstone_and_tints(red(), (1, 4))
    rows[1][1][30] = 1.02
    rows[2][1][4] = -0.02
    words = refusal(rows)
    assert "tint 1:1 (tint 1:1.csv) reads 102.0 % at 680 nm" in words
    assert "reads -2.00 % at 420 nm" in words


def test_one_file_copied_over_another() -> None:
    rows = masstone_and_tints(red(), (1, 4))
    rows[2] = ("tint 1:4", rows[1][1])
    assert "the very same numbers" in refusal(rows)


def test_darker_than_a_gloss_surface_is_flagged() -> None:
    matt = Surface(k1=0.018)
    rows = [("masstone", film(blue(), surface=matt)), ("tint 1:4", film(blue(), 4, surface=matt))]
    assert any("darker than the mirror reflection" in w for w in fit(rows).warnings)


def test_a_little_below_zero_is_flagged() -> None:
    rows = [(n, np.maximum(R - 0.03, 0)) for n, R in masstone_and_tints(red(), (1, 4))]
    rows[0][1][3] = -0.001
    m = learn(drawdown_set(files(rows, specular="excluded")), white=WHITE)
    assert any("a little below zero at 410 nm" in w for w in m.warnings)


def test_another_white_has_no_order_to_check() -> None:
    near = Known(white().K * 1.1, white().S * 0.95)
    m = fit(masstone_and_tints(near, (1, 4)))
    assert m.level == "two constants"


# ------------------------------------------------------------------ what is learnt from less


def test_a_masstone_alone_gives_a_single_constant() -> None:
    p = red()
    m = fit([("masstone", film(p))])
    assert m.level == "single constant" and m.confidence == "low"
    np.testing.assert_allclose(m.K / m.S, p.K / p.S, rtol=1e-6)
    assert any("only the ratio K/S" in w for w in m.not_learned)
    leaning = fit([("masstone", film(p))], model=Optics(p.K * 2, p.S, "modelled PR0"))
    np.testing.assert_allclose(leaning.K, p.K, rtol=1e-6)
    assert "the scattering of modelled PR0" in leaning.assumed


def test_one_tint_alone_too() -> None:
    p = red()
    m = fit([("tint 1:4", film(p, 4))], model=Optics(p.K, p.S, "the model"))
    np.testing.assert_allclose(m.K, p.K, rtol=1e-5)


def test_a_film_over_one_card_tells_too_little() -> None:
    assert "over one card alone" in refusal([("masstone over white", film(red(), X=2.0))])


def test_masstones_over_black_and_white_that_hide_count_as_one_opaque() -> None:
    p = red()
    rows = [
        ("masstone over black", film(p, X=20.0, ground=BLACK_GROUND)),
        ("masstone over white", film(p, X=20.0, ground=WHITE_GROUND) + 1e-6),
        ("tint 1:4", film(p, 4)),
    ]
    m = fit(rows)
    assert [f.ground for f in m.films] == ["opaque", "opaque"]
    assert any("the film hides the card" in w for w in m.assumed)


def test_the_whites_own_reading_mends_its_absorption() -> None:
    p, w = red(), white()
    duller = Optics(w.K * 3, w.S, "a duller white")
    rows = [*masstone_and_tints(p, (1, 8)), ("white", film(w))]
    m = learn(drawdown_set(files(rows)), white=duller)
    np.testing.assert_allclose(m.K, p.K, rtol=5e-3)
    assert any("its absorption was measured" in words for words in m.assumed)


def test_cards_that_were_read_are_used() -> None:
    p = blue()
    rows = [
        *masstone_and_tints(p, (1, 8)),
        ("masstone over black", film(p, X=2.0, ground=0.05)),
        ("masstone over white", film(p, X=2.0, ground=0.7)),
    ]
    bare = Known(np.full(36, 1e-9), np.full(36, 1e-9))
    rows += [
        ("card black", film(bare, X=0.0, ground=0.05)),
        ("card white", film(bare, X=0.0, ground=0.7)),
    ]
    m = fit(rows)
    np.testing.assert_allclose(m.K, p.K, rtol=1e-2)
    assert not any("card wasn't read" in words for words in m.assumed)


def test_the_modelled_white_is_the_registers() -> None:
    m = learn(drawdown_set(files(masstone_and_tints(red(), (1, 4)))))
    assert any("modelled titanium white PW6" in words for words in m.assumed)
    at_560 = 18
    assert modelled_white().S[at_560] == pytest.approx(1.0, abs=0.02)


def test_no_films_or_too_few_for_the_surface() -> None:
    with pytest.raises(UserError, match="No masstone and no tint"):
        fit([("white", film(white()))])
    with pytest.raises(UserError, match="need three drawdowns"):
        fit(masstone_and_tints(red(), (4,)), fit_surface=True)


def test_bands_read_in_no_two_drawdowns_alike() -> None:
    w = np.arange(380.0, 731.0, 10.0)
    low = spectrum("masstone", film(red())[:31], wavelengths=w[:31])
    high = spectrum("tint 1:4", film(red(), 4)[4:], wavelengths=w[4:])
    m = learn(drawdown_set([Spectra((low, high))]), white=WHITE)
    np.testing.assert_allclose(m.K[4:31], red().K[4:31], rtol=1e-3)


def test_paint_is_the_random_paint_of_these_tests() -> None:
    a, b = (paint(np.random.default_rng(1)) for _ in range(2))
    assert np.array_equal(a.K, b.K)
