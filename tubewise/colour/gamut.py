"""Bringing a colour inside what a screen can show, its hue kept."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tubewise.colour.arrays import Floats
from tubewise.colour.srgb import linear_from_lab

# A thousandth of an 8-bit step at the dark end, so rounding alone never moves a colour.
_SLACK: Final = 1e-7
# Halvings of the chroma: 2^-30 of any real chroma lies far below an 8-bit step.
_HALVINGS: Final = 30
# Below this chroma there is nothing to draw in.
_GREY: Final = 1e-6


def in_srgb(lab: ArrayLike) -> NDArray[np.bool_]:
    """Whether a screen can show each CIELAB colour D65/2; (..., 3) to (...)."""
    linear = linear_from_lab(lab)
    return np.asarray(((linear >= -_SLACK) & (linear <= 1.0 + _SLACK)).all(axis=-1))


def into_srgb(lab: ArrayLike) -> Floats:
    """CIELAB D65/2 brought inside sRGB at constant CIELAB hue, shapes (..., 3).

    Colours already inside are returned unchanged. Others keep their hue angle and their lightness
    (held within 0-100), and chroma is reduced by bisection until a screen can show them; channels
    are never clipped one by one, which would turn the hue.
    """
    lab = np.array(lab, dtype=np.float64)
    out = ~in_srgb(lab)
    if out.any():
        lab[out] = _reduced(lab[out])
    return lab


def _reduced(lab: Floats) -> Floats:
    # The greys L 0-100 are always inside, so a bracket exists for every colour.
    lab[:, 0] = np.clip(lab[:, 0], 0.0, 100.0)
    lowest, highest = np.zeros(len(lab)), np.ones(len(lab))
    tried = lab.copy()
    for _ in range(_HALVINGS):
        middle = 0.5 * (lowest + highest)
        tried[:, 1:] = middle[:, None] * lab[:, 1:]
        inside = in_srgb(tried)
        lowest = np.where(inside, middle, lowest)
        highest = np.where(inside, highest, middle)
    lab[:, 1:] *= lowest[:, None]
    return lab


def path_into_srgb(lab: ArrayLike, reach: int) -> Floats:
    """A path through CIELAB D65/2, (n, 3), brought inside sRGB so that it bends nowhere anew.

    Where a wash leaves what a screen can show, mapping each colour by itself would turn the path
    sharply. Here chroma is drawn in by a factor that changes smoothly along the path: the least of
    what is needed within `reach` steps, averaged over as many. Hue and lightness are kept.
    """
    lab = np.array(lab, dtype=np.float64)
    inside = into_srgb(lab)
    whole = np.hypot(lab[:, 1], lab[:, 2])
    kept = np.hypot(inside[:, 1], inside[:, 2])
    needed = np.where(whole > _GREY, kept / np.maximum(whole, _GREY), 1.0)
    inside[:, 1:] = lab[:, 1:] * _drawn_in(needed, reach)[:, None]
    return inside


def _drawn_in(needed: Floats, reach: int) -> Floats:
    """A smooth factor (n,), nowhere above `needed`."""
    n = len(needed)
    near = np.abs(np.subtract.outer(np.arange(n), np.arange(n))) <= reach
    least = np.where(near, needed[None, :], np.inf).min(axis=1)
    # A triangle's weights: beyond the ends the path goes on as it ends.
    steps = np.arange(-reach, reach + 1)
    weights = reach + 1.0 - np.abs(steps)
    at = np.clip(np.arange(n)[:, None] + steps, 0, n - 1)
    return np.asarray((least[at] * weights).sum(axis=1) / weights.sum())
