"""One pigment's numbers: from facts about it, or from curves that were measured."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from scipy.optimize import least_squares

from tools.fit.colours import White, fact_residuals, tint
from tools.fit.facts import Fact
from tools.fit.families import Family, with_own_level
from tools.fit.shape import Start, habits, start_of
from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.pigments.models import Shape

# Of measured curves, what shows: below these K and S are as good as nothing.
_K_SEEN = 5e-4
_S_SEEN = 3e-3
# How near a curve should come to measured ones, in logarithms, and how freely the chemistry's
# bands may move for it.
_CURVE_ERROR = 0.15
_FREEDOM = 2.0
_SHARES = np.array([0.05, 0.2, 0.5, 1.0])


def fit_pigment(facts: Sequence[Fact], family: Family, white: White) -> Shape:
    """The likeliest shape by a pigment's facts, its chemistry and its family.

    It is the maximum a posteriori estimate.
    """
    start = start_of(facts, with_own_level(family, facts))

    def residuals(theta: Floats) -> Floats:
        K, S = start.shape(theta).curves()
        return np.concatenate((fact_residuals(facts, K, S, white), theta))

    best = least_squares(residuals, np.zeros(start.size), method="trf", max_nfev=60)
    return start.shape(best.x)


def fit_curves(
    facts: Sequence[Fact], family: Family, K: Floats, S: Floats, white: White
) -> tuple[Shape, Floats]:
    """The shape nearest to measured curves K and S (36,) and to the colours they make.

    Beside it, how it differs from the chemistry's by what a family shares (3,).
    """
    start = _scaled(start_of(facts, family, _FREEDOM), K)
    # Below 410 nm the white itself absorbs, and beyond 700 nm no eye sees: little is known there.
    edge = (WAVELENGTHS_NM < 410.0) | (WAVELENGTHS_NM > 700.0)
    weight = np.where(edge, 0.3, 1.0) / _CURVE_ERROR
    wanted = tint(K, S, white, _SHARES)

    def residuals(theta: Floats) -> Floats:
        k, s = start.shape(theta).curves()
        return np.concatenate(
            (
                weight * np.log((k + _K_SEEN) / (K + _K_SEEN)),
                weight * np.log((s + _S_SEEN) / (S + _S_SEEN)),
                np.ravel(tint(k, s, white, _SHARES) - wanted),
                theta,
            )
        )

    best = least_squares(residuals, np.zeros(start.size), method="trf", max_nfev=100)
    shape = start.shape(best.x)
    return shape, habits(start, shape)


def _scaled(start: Start, K: Floats) -> Start:
    """The start with its absorption brought to the size of the measured one."""
    own, _ = start.shape(np.zeros(start.size)).curves()
    factor = K[3:].max() / own[3:].max()
    scale = np.array([1.0, 1.0, factor])
    return Start(
        bands=start.bands * scale,
        edges=start.edges * scale,
        floor=start.floor * np.array([factor, 1.0]),
        step=start.step,
        family=start.family,
        freedom=start.freedom,
    )
