from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import least_squares

from tubewise.colour.arrays import Floats
from tubewise.measure.fit import Films, fit_bands, linear_start
from tubewise.measure.model import readings_and_slopes, readings_of
from tubewise.optics.film import film_reflectance
from tubewise.optics.surface import GLOSS, Surface, measured_from_internal

RNG = np.random.default_rng(11)


def some_films(n: int = 6, noise: float = 0.002) -> Films:
    """Random paints of one band each: masstone, tints, and films over black and white."""
    share = np.array([1.0, 0.5, 0.2, 0.05, 1.0, 1.0])
    X = np.array([np.inf, np.inf, np.inf, np.inf, 2.0, 2.0])
    ground = np.array([0.0, 0.0, 0.0, 0.0, 0.01, 0.8])[:, None]
    K = 10.0 ** RNG.uniform(-2, 1, n)
    S = 10.0 ** RNG.uniform(-1.5, 0, n)
    Kw, Sw = np.full(n, 0.002), np.ones(n)
    Km = share[:, None] * K + (1 - share[:, None]) * Kw
    Sm = share[:, None] * S + (1 - share[:, None]) * Sw
    R = measured_from_internal(film_reflectance(Km, Sm, X[:, None], ground))
    return Films(R + noise * RNG.standard_normal(R.shape), share, Kw, Sw, X, ground)


def test_the_model_reads_as_the_optics_layer_does() -> None:
    K, S, X, Rg = (10.0 ** RNG.uniform(-3, 1, 200) for _ in range(4))
    Rg = np.clip(Rg, 0.0, 0.9)
    X[::5] = np.inf
    for surface in (GLOSS, Surface(0.04, 0.6, specular_included=False)):
        ours = readings_of(K, S, np.ones(1), K, S, X, Rg, surface)
        theirs = measured_from_internal(film_reflectance(K, S, X, Rg), surface)
        np.testing.assert_allclose(ours, theirs, rtol=1e-9, atol=1e-12)


@pytest.mark.parametrize("X", [np.inf, 3.0, 0.3, 1e-6])
def test_slopes_are_the_differences(X: float) -> None:
    K, S = 10.0 ** RNG.uniform(-2, 1, 50), 10.0 ** RNG.uniform(-2, 0, 50)
    c, Kw, Sw, Rg = np.full(50, 0.4), np.full(50, 0.01), np.ones(50), np.full(50, 0.7)
    X_ = np.full(50, X)
    _, by_K, by_S = readings_and_slopes(K, S, c, Kw, Sw, X_, Rg, GLOSS)
    h = 1e-5

    def read(ln_K: float, ln_S: float) -> Floats:
        return readings_of(K * np.exp(ln_K), S * np.exp(ln_S), c, Kw, Sw, X_, Rg, GLOSS)

    for slope, up, down in (
        (by_K, read(h, 0.0), read(-h, 0.0)),
        (by_S, read(0.0, h), read(0.0, -h)),
    ):
        differences = (up - down) / (2 * h)
        np.testing.assert_allclose(slope, differences, rtol=1e-5, atol=1e-9)


def test_the_linear_start_is_exact_for_exact_readings_of_opaque_films() -> None:
    films = some_films(30, noise=0.0)
    opaque = Films(films.R[:4], films.share[:4], films.K_white, films.S_white)
    K, S = linear_start(opaque)
    fit = fit_bands(opaque)
    np.testing.assert_allclose(K, fit.K, rtol=1e-5)
    np.testing.assert_allclose(S, fit.S, rtol=1e-4, atol=1e-5)


def test_the_optimum_is_scipys() -> None:
    films = some_films(25)
    ours = fit_bands(films)
    for b in range(films.R.shape[1]):

        def residual(theta: np.ndarray, b: int = b) -> np.ndarray:
            got = readings_of(
                np.exp(theta[0]),
                np.exp(theta[1]),
                films.share,
                films.K_white[b],
                films.S_white[b],
                films.X,
                films.ground[:, 0],
                GLOSS,
            )
            return (got - films.R[:, b]) / 0.002

        start = np.log(np.array([0.5, 0.3]))
        theirs = least_squares(residual, start, xtol=1e-14, ftol=1e-14, gtol=1e-14)
        assert ours.objective[b] <= theirs.cost * (1 + 1e-7) + 1e-9


def test_bounds_hold_and_a_film_that_only_absorbs_is_met() -> None:
    share = np.array([1.0, 0.5, 0.1])
    K, Kw, Sw = 2.0, 0.002, 1.0
    R = readings_of(
        np.array(K),
        np.array(1e-9),
        share,
        np.array(Kw),
        np.array(Sw),
        np.array(np.inf),
        np.zeros(1),
        GLOSS,
    )
    fit = fit_bands(Films(R[:, None] - 0.0002, share, np.array([Kw]), np.array([Sw])))
    assert 0.99e-5 <= fit.S[0] < 1e-3
    assert fit.K[0] == pytest.approx(K, rel=0.02)


def test_many_paints_at_once_are_each_alone() -> None:
    a, b = some_films(8), some_films(8)
    both = Films(np.stack([a.R, b.R]), a.share, np.stack([a.K_white] * 2), a.S_white, a.X, a.ground)
    together = fit_bands(both)
    for row, one in enumerate((a, b)):
        np.testing.assert_allclose(together.K[row], fit_bands(one).K, rtol=1e-6)


def test_readings_that_are_not_there_do_not_count() -> None:
    films = some_films(4, noise=0.0)
    spoiled = films.R.copy()
    spoiled[1, 2] = 0.9
    sigma = np.full(films.R.shape, 0.002)
    sigma[1, 2] = np.inf
    fit = fit_bands(
        Films(spoiled, films.share, films.K_white, films.S_white, films.X, films.ground, sigma)
    )
    np.testing.assert_allclose(fit.objective, 0.0, atol=1e-8)
    assert fit.residuals[1, 2] == 0.0
