"""Spectra of any wavelengths onto the package's grid.

Bandpass: readings are taken as they are. An instrument that reads every 20 nm has usually blurred
steep edges already, which no interpolation undoes; `Resampled.notes` says so.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.errors import UserError

# Spectra may stop this far inside the grid; the eye sees little of what lies beyond.
LATEST_START_NM = 420.0
EARLIEST_END_NM = 680.0
WIDEST_GAP_NM = 50.0
_COARSE_NM = 12.0

# Sprague's fifth-order interpolation between the third and fourth of six values, and the two
# values it needs beyond each end (CIE 167:2005; coefficients also in Westland, Ripamonti & Cheung,
# Computational Colour Science Using MATLAB, 2012). Rows: powers 0 to 5; columns: samples.
_SPRAGUE = (
    np.array(
        [
            [0, 0, 24, 0, 0, 0],
            [2, -16, 0, 16, -2, 0],
            [-1, 16, -30, 16, -1, 0],
            [-9, 39, -70, 66, -33, 7],
            [13, -64, 126, -124, 61, -12],
            [-5, 25, -50, 50, -25, 5],
        ],
        dtype=np.float64,
    )
    / 24.0
)
_SPRAGUE_ENDS = (
    np.array(
        [[884, -1960, 3033, -2648, 1080, -180], [508, -540, 488, -367, 144, -24]],
        dtype=np.float64,
    )
    / 209.0
)


@dataclass(frozen=True, slots=True, eq=False)
class Resampled:
    """Reflectance (..., 36) on the grid; `measured` (36,) is False where it was extrapolated."""

    reflectance: Floats
    measured: NDArray[np.bool_]
    notes: tuple[str, ...]


def sprague(values: ArrayLike, start: float, step: float, at: ArrayLike) -> Floats:
    """Sprague interpolation of equally spaced values (..., n >= 6) at wavelengths `at` (m,).

    `at` lies within the values' range; returns (..., m). Source: CIE 167:2005.
    """
    y = np.asarray(values, dtype=np.float64)
    head = y[..., :6] @ _SPRAGUE_ENDS.T
    tail = (y[..., :-7:-1] @ _SPRAGUE_ENDS.T)[..., ::-1]
    padded = np.concatenate([head, y, tail], axis=-1)
    position = (np.asarray(at, dtype=np.float64) - start) / step
    cell = np.clip(np.floor(position).astype(int), 0, y.shape[-1] - 2)
    powers = (position - cell)[:, None] ** np.arange(6)
    # (m, 6): how much each of the six neighbours counts.
    weights = powers @ _SPRAGUE
    six = padded[..., cell[:, None] + np.arange(6)]
    return np.asarray(np.einsum("...mk,mk->...m", six, weights))


def resample(wavelengths_nm: ArrayLike, values: ArrayLike, where: str = "") -> Resampled:
    """Values (..., n) at rising `wavelengths_nm` (n,) brought to 380, 390 ... 730 nm.

    Wavelengths that already are the grid's pass unchanged. Equal steps: Sprague; others: a cubic
    spline; both as CIE 167:2005 recommends. Beyond the readings the end value is held, with a
    note (CIE 15:2018 allows it where nothing is known). Overshoot of the interpolation past 0 or 1
    is cut where the readings themselves stay within.

    Raises UserError when the readings start after 420, end before 680 or leave a gap over 50 nm.
    """
    w = np.asarray(wavelengths_nm, dtype=np.float64)
    y = np.asarray(values, dtype=np.float64)
    if w[0] > LATEST_START_NM or w[-1] < EARLIEST_END_NM:
        raise UserError(
            f"The spectrum runs from {w[0]:g} to {w[-1]:g} nm; it must start by "
            f"{LATEST_START_NM:g} and go on to {EARLIEST_END_NM:g} nm at least.",
            where=where,
        )
    steps = np.diff(w)
    if steps.max() > WIDEST_GAP_NM:
        gap = int(np.argmax(steps))
        raise UserError(
            f"Nothing between {w[gap]:g} and {w[gap + 1]:g} nm; a gap over {WIDEST_GAP_NM:g} nm "
            "can't be bridged.",
            where=where,
        )
    grid = WAVELENGTHS_NM
    slack = 1e-6
    measured = (grid >= w[0] - slack) & (grid <= w[-1] + slack)
    notes: list[str] = []
    if not measured.all():
        ends = [
            f"below {w[0]:g} nm" if w[0] > grid[0] else "",
            f"above {w[-1]:g} nm" if w[-1] < grid[-1] else "",
        ]
        notes.append(
            f"nothing was read {' and '.join(end for end in ends if end)}: extrapolated there"
        )
    if steps.max() > _COARSE_NM:
        notes.append(
            f"read every {steps.max():g} nm: steep edges are blurred by the instrument's bandpass "
            "and interpolation can't sharpen them"
        )
    inside = np.clip(grid, w[0], w[-1])
    shared = np.searchsorted(w, inside)
    if np.allclose(w[np.minimum(shared, w.size - 1)], inside, atol=slack, rtol=0.0):
        out = y[..., np.minimum(shared, w.size - 1)]
    elif np.allclose(steps, steps[0], atol=1e-3, rtol=0.0):
        out = sprague(y, float(w[0]), float(steps.mean()), inside)
    else:
        from scipy.interpolate import CubicSpline

        out = CubicSpline(w, y, axis=-1)(inside)
    low = np.minimum(y.min(axis=-1, keepdims=True), 0.0)
    high = np.maximum(y.max(axis=-1, keepdims=True), 1.0)
    return Resampled(np.clip(out, low, high), measured, tuple(notes))
