"""The single constant: what one opaque drawdown tells, and what has to be borrowed.

With one reading only the ratio K/S is known (Berns & Mohammadi, Color Res. Appl. 32, 2007, on what
the shortcut costs with paints).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import N_BANDS
from tubewise.colour.lab import lab_from_reflectance
from tubewise.errors import UserError
from tubewise.measure.bands import away, carried
from tubewise.measure.drawdowns import Drawdown, DrawdownSet
from tubewise.measure.fit import HIGHEST, LOWEST, READING_ERROR
from tubewise.measure.measured import FilmFit, MeasuredOptics
from tubewise.measure.references import MODEL_SCATTER_SPREAD, Optics
from tubewise.optics.film import ks_ratio, opaque_reflectance
from tubewise.optics.surface import (
    Surface,
    internal_from_measured,
    measured_from_internal,
    reading_slope,
)

# Scattering of a coloured paint of which nothing is known, and trust in its logarithm: artists'
# paints lie between a twentieth of titanium white's and nearly its own (from memory).
_PLAIN_SCATTER = 0.3
_SCATTER_SPREAD = 0.8


def learn_single(
    drawn: DrawdownSet,
    film: Drawdown,
    tube: str,
    white: Optics,
    model: Optics | None,
    skin: Surface,
    assumed: Sequence[str],
    warnings: Sequence[str],
) -> MeasuredOptics:
    """One opaque film: K/S, with a scattering taken from `model` or a plain guess.

    `skin` is the surface; `white` the white of a tint. Raises UserError for a film over a card.
    """
    if film.role.ground != "opaque":
        raise UserError(
            f"{film.sample} over one card alone tells neither how thick nor how strong it is; draw "
            "it over black and white, or thick enough to be opaque."
        )
    S, spread, source = _scattering(model)
    good = np.isfinite(film.sigma)
    K, sigma = _absorption(film, S, white, skin)
    local = np.zeros((N_BANDS, 2, 2))
    local[:, 0, 0] = carried(sigma, good) ** 2 + away(good) ** 2 + 1e-8
    local[:, 1, 1] = 0.01
    K = carried(K, good)
    miss, quality = _quality(film, K, S, white, skin)
    return MeasuredOptics(
        tube,
        "single constant",
        K,
        S,
        local,
        # More scattering with the ratio kept means more absorption alike.
        np.full((1, N_BANDS, 2), spread),
        np.abs(miss),
        (quality,),
        (skin.k1, skin.k2),
        drawn.conditions,
        drawn.raw,
        (*assumed, source),
        (
            "how strongly it tints and how well it hides: one drawdown gives only the ratio K/S; a "
            "tint with white at known parts would tell",
            "whether the film was opaque: draw it over black and white to see",
        ),
        tuple(dict.fromkeys(warnings)),
    )


def _scattering(model: Optics | None) -> tuple[Floats, float, str]:
    """S (36,) from `model` or a plain guess, the spread of its logarithm, and words on it."""
    if model is None:
        words = "a scattering three tenths of titanium white's, the same at all wavelengths"
        return np.full(N_BANDS, _PLAIN_SCATTER), _SCATTER_SPREAD, words
    return np.array(model.S), MODEL_SCATTER_SPREAD, f"the scattering of {model.name}"


def _absorption(film: Drawdown, S: Floats, white: Optics, skin: Surface) -> tuple[Floats, Floats]:
    """K (36,) that `film` needs with the paint's S, and the standard error of its logarithm."""
    inside = np.clip(internal_from_measured(film.R, skin), 1e-4, 0.9995)
    c = film.share
    # K of the mixture follows from its S; what the white brings is taken off.
    q = ks_ratio(inside)
    mixed = c * S + (1.0 - c) * white.S
    K = np.clip((q * mixed - (1.0 - c) * white.K) / c, LOWEST, HIGHEST)
    # d ln q / d R_m, by the slope of the opaque film and of the surface.
    error = (
        READING_ERROR
        / reading_slope(inside, skin)
        / inside
        * (1 + inside)
        / np.maximum(1 - inside, 1e-3)
    )
    return K, np.minimum(error * q * mixed / (c * K), 1.2)


def _quality(
    film: Drawdown, K: Floats, S: Floats, white: Optics, skin: Surface
) -> tuple[Floats, FilmFit]:
    """How far the film fitted is from the film read: reflectance (36,), and in one line."""
    c, good = film.share, np.isfinite(film.sigma)
    K_mix, S_mix = c * K + (1.0 - c) * white.K, c * S + (1.0 - c) * white.S
    R = measured_from_internal(opaque_reflectance(K_mix, S_mix), skin)
    miss = np.where(good, R - film.R, 0.0)
    delta = delta_e_2000(lab_from_reflectance(film.R), lab_from_reflectance(film.R + miss))
    quality = FilmFit(
        film.sample,
        film.role.kind,
        "opaque",
        c,
        float(delta),
        float(np.sqrt(np.mean(miss[good] ** 2))),
        1.0,
        None,
    )
    return miss, quality
