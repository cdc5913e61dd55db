"""Fitting K and S of many paints: ours, all at once, against SciPy band by band.

`python -m bench.fitting [PAINTS] [SAMPLED]` fits PAINTS (200) invented paints with 8 drawdowns
each, 36 bands a paint. The reference, `scipy.optimize.least_squares` in a Python loop over paints
and bands with the same residuals, bounds and start, would take minutes: it is timed on SAMPLED
(12) of the paints and scaled up. Both are compared at the optimum they reach.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Iterator

import numpy as np
from scipy.optimize import least_squares

from bench.row import Row
from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.measure.fit import HIGHEST, LOWEST, READING_ERROR, Films, fit_bands, linear_start
from tubewise.measure.model import readings_of
from tubewise.optics.film import film_reflectance
from tubewise.optics.surface import GLOSS, measured_from_internal

SHARES = 1.0 / (1.0 + np.array([0.0, 0.0, 0.0, 1.0, 2.0, 4.0, 8.0, 16.0]))
THICKNESS = np.array([np.inf, 3.0, 3.0, np.inf, np.inf, np.inf, np.inf, np.inf])
GROUND = np.array([0.0, 0.01, 0.8, 0.0, 0.0, 0.0, 0.0, 0.0])


def drawdowns(paints: int, seed: int = 3) -> Films:
    """Noisy readings of invented paints: a masstone, films over black and white, five tints."""
    rng = np.random.default_rng(seed)
    w = WAVELENGTHS_NM
    K = np.repeat(10.0 ** rng.uniform(-2.5, -1.0, (paints, 1)), w.size, axis=1)
    for _ in range(2):
        centre, width = (
            1e7 / rng.uniform(400, 680, (paints, 1)),
            rng.uniform(1e3, 3.5e3, (paints, 1)),
        )
        height = 10.0 ** rng.uniform(-0.5, 1.2, (paints, 1))
        K = K + height * np.exp(-(((1e7 / w - centre) / width) ** 2))
    S = 10.0 ** rng.uniform(-1.7, -0.1, (paints, 1)) * (560.0 / w) ** rng.uniform(0, 2, (paints, 1))
    K_white = 0.001 + 3.0 * np.exp(-(((w - 370.0) / 14.0) ** 2))
    S_white = (560.0 / w) ** 0.9
    c = SHARES[:, None]
    R = measured_from_internal(
        film_reflectance(
            c * K[:, None] + (1 - c) * K_white,
            c * S[:, None] + (1 - c) * S_white,
            THICKNESS[:, None],
            GROUND[:, None],
        )
    )
    R = R + READING_ERROR * rng.standard_normal(R.shape)
    return Films(R, SHARES, K_white, S_white, THICKNESS, GROUND[:, None])


def band_by_band(films: Films, paints: int) -> Floats:
    """The reference: SciPy on each band of the first `paints`; returns the objectives."""
    K0, S0 = linear_start(films)
    bounds = (np.log([LOWEST, LOWEST]), np.log([HIGHEST, HIGHEST]))
    out = np.empty((paints, films.R.shape[-1]))
    for p in range(paints):
        for b in range(out.shape[1]):
            read, white = films.R[p, :, b], (films.K_white[b : b + 1], films.S_white[b : b + 1])
            ground = films.ground[:, 0]

            def residual(
                theta: Floats,
                read: Floats = read,
                white: tuple[Floats, Floats] = white,
                ground: Floats = ground,
            ) -> Floats:
                K, S = np.exp(theta)
                got = readings_of(K, S, films.share, *white, films.X, ground, GLOSS)
                misses: Floats = (got - read) / READING_ERROR
                return misses

            start = np.clip(np.log([K0[p, b], S0[p, b]]), bounds[0] + 1e-9, bounds[1] - 1e-9)
            out[p, b] = least_squares(residual, start, bounds=bounds).cost
    return out


def rows(paints: int = 200, sampled: int = 12) -> Iterator[Row]:
    """Time both ways in one run, and compare what they reach."""
    films = drawdowns(paints)
    fit_bands(drawdowns(2))
    ours = []
    for _ in range(5):
        start = time.perf_counter()
        fit = fit_bands(films)
        ours.append(time.perf_counter() - start)
    sampled = min(sampled, paints)
    start = time.perf_counter()
    reference = band_by_band(films, sampled)
    took = (time.perf_counter() - start) * paints / sampled
    excess = (fit.objective[:sampled] - reference) / np.maximum(reference, 1e-12)
    yield Row(
        f"fit {paints} paints x {films.R.shape[-2]} drawdowns x {films.R.shape[-1]} bands",
        float(np.median(ours)),
        took,
        "50 times",
        f"scipy.optimize.least_squares band by band, timed on {sampled} paints and scaled; our "
        "objective is above its by at most "
        f"{max(excess.max(), 0.0):.1e} and below by at most {max(-excess.min(), 0.0):.1e} of it",
    )


if __name__ == "__main__":
    for row in rows(*(int(v) for v in sys.argv[1:])):
        print(" | ".join(row.cells))
