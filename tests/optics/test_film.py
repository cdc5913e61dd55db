"""Films: checked against the two-flux equations themselves and against their known limits."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from tubewise.optics.film import (
    BLACK_GROUND,
    WHITE_GROUND,
    card,
    film_reflectance,
    film_slopes,
    ks_ratio,
    opaque_reflectance,
)
from tubewise.optics.surface import measured_from_internal

strength = st.floats(0.0, 50.0)
thickness = st.floats(0.0, 30.0)
ground = st.floats(0.0, 1.0)


def integrated(K: float, S: float, X: float, Rg: float) -> float:
    """Reflectance by integrating the flux ratio r = j/i up from the ground.

    dr/dx = S - 2 (K + S) r + S r^2, r(0) = Rg: the two-flux equations of Kubelka & Munk (1931)
    for the ratio of upward to downward flux.
    """
    solution = solve_ivp(
        lambda _, r: S - 2.0 * (K + S) * r + S * r * r,
        (0.0, X),
        [Rg],
        method="LSODA",
        rtol=1e-11,
        atol=1e-13,
    )
    return float(solution.y[0, -1])


@pytest.mark.parametrize("K", [0.0, 0.02, 1.0, 20.0])
@pytest.mark.parametrize("S", [1e-6, 0.3, 4.0])
@pytest.mark.parametrize("X", [0.01, 0.5, 3.0])
@pytest.mark.parametrize("Rg", [0.0, 0.35, 0.9])
def test_the_closed_form_is_the_integral_of_the_two_flux_equations(
    K: float, S: float, X: float, Rg: float
) -> None:
    assert film_reflectance(K, S, X, Rg) == pytest.approx(integrated(K, S, X, Rg), abs=1e-6)


@given(strength, strength, thickness, ground)
def test_a_film_returns_no_more_than_all_and_no_less_than_nothing(
    K: float, S: float, X: float, Rg: float
) -> None:
    R = float(film_reflectance(K, S, X, Rg))
    assert 0.0 <= R <= 1.0


@given(strength, strength, ground)
def test_no_film_shows_the_ground(K: float, S: float, Rg: float) -> None:
    assert float(film_reflectance(K, S, 0.0, Rg)) == pytest.approx(Rg, abs=1e-12)


@given(st.floats(1e-3, 50.0), st.floats(1e-3, 50.0), ground)
def test_an_endless_film_hides_the_ground(K: float, S: float, Rg: float) -> None:
    endless = float(film_reflectance(K, S, np.inf, Rg))
    assert endless == pytest.approx(float(opaque_reflectance(K, S)), abs=1e-12)
    assert float(film_reflectance(K, S, 1e7, Rg)) == pytest.approx(endless, abs=1e-6)


@given(st.floats(0.0, 20.0), st.floats(0.0, 5.0), ground)
def test_a_film_without_scattering_dims_the_ground_twice(K: float, X: float, Rg: float) -> None:
    # Bouguer's law, once on the way in and once on the way out.
    assert float(film_reflectance(K, 0.0, X, Rg)) == pytest.approx(
        Rg * np.exp(-2.0 * K * X), abs=1e-9
    )


@given(st.floats(0.0, 20.0), st.floats(0.0, 20.0), ground)
def test_a_film_without_absorption_follows_its_own_limit(S: float, X: float, Rg: float) -> None:
    # Kubelka 1948 for K = 0: R = (Rg + (1 - Rg) S X) / (1 + (1 - Rg) S X).
    q = (1.0 - Rg) * S * X
    assert float(film_reflectance(0.0, S, X, Rg)) == pytest.approx((Rg + q) / (1.0 + q), abs=1e-9)


@given(strength, st.floats(1e-3, 50.0), st.floats(0.0, 5.0), st.floats(0.0, 5.0), ground)
def test_two_films_of_one_paint_are_one_film(
    K: float, S: float, X1: float, X2: float, Rg: float
) -> None:
    below = float(film_reflectance(K, S, X2, Rg))
    stacked = float(film_reflectance(K, S, X1, below))
    assert stacked == pytest.approx(float(film_reflectance(K, S, X1 + X2, Rg)), abs=1e-8)


@given(st.floats(1e-4, 1.0))
def test_k_over_s_and_opaque_reflectance_undo_each_other(R: float) -> None:
    assert float(opaque_reflectance(ks_ratio(R), 1.0)) == pytest.approx(R, rel=1e-9)


def test_an_endless_clear_layer_returns_nothing() -> None:
    assert float(opaque_reflectance(0.0, 0.0)) == 0.0
    assert float(film_reflectance(0.0, 0.0, np.inf, 0.7)) == pytest.approx(0.7)


def test_bands_and_leading_axes_broadcast() -> None:
    K = np.linspace(0.1, 5.0, 36)
    R = film_reflectance(K, np.ones(36), np.array([0.5, 2.0])[:, None], 0.8)
    assert R.shape == (2, 36)


def test_a_card_shows_a_film_more_than_it_reads() -> None:
    # ASTM D2805 and ISO 6504-3 ask for a white of 80 %; under a film that is 0.917, by Saunderson's
    # correction with k1 = 0.03 and k2 = 0.65: (0.80 - 0.03) / (0.97 * 0.35 + 0.65 * 0.77).
    assert pytest.approx(0.77 / (0.97 * 0.35 + 0.65 * 0.77)) == WHITE_GROUND
    assert float(measured_from_internal(WHITE_GROUND)) == pytest.approx(0.80)
    assert pytest.approx(0.02, abs=0.001) == BLACK_GROUND
    assert float(measured_from_internal(BLACK_GROUND)) < 0.05


def test_a_card_reads_between_nothing_and_all() -> None:
    assert card(1.0) == pytest.approx(1.0) and card(0.0) == 0.0
    with pytest.raises(ValueError, match="between 0 and 1"):
        card(80.0)


@pytest.mark.parametrize("X", [1e-4, 0.1, 3.0, 50.0, np.inf])
def test_slopes_are_the_differences_of_reflectance(X: float) -> None:
    K, S = np.array([0.02, 0.5, 8.0]), np.array([0.9, 0.1, 0.3])
    thickness, ground = np.array([X]), np.array([0.7])
    R, by_K, by_S = film_slopes(K, S, thickness, ground)
    np.testing.assert_allclose(R, film_reflectance(K, S, X, 0.7), atol=1e-12)
    h = 1e-6
    for slope, up, down in (
        (by_K, film_reflectance(K + h, S, X, 0.7), film_reflectance(K - h, S, X, 0.7)),
        (by_S, film_reflectance(K, S + h, X, 0.7), film_reflectance(K, S - h, X, 0.7)),
    ):
        np.testing.assert_allclose(slope, (up - down) / (2.0 * h), rtol=1e-5, atol=1e-8)
