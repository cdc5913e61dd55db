"""A flat patch of a picture: its colour in linear light, and what is wrong with it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.srgb import linear_from_encoded
from tubewise.measure.picture.deep import Levels
from tubewise.pictures.opening import Pixels

CLIPPED: Final = 251  # levels from which a channel holds no more light
UNEVEN: Final = 0.16  # spread of a flat patch in units of its own light


@dataclass(frozen=True, kw_only=True, slots=True)
class Patch:
    """A patch around `x`, `y` pixels: linear sRGB 0-1, shape (3,), and the noise of its mean.

    `clipped` and `shiny` are shares of its area; `spread` the relative spread of its light.
    """

    x: float
    y: float
    linear: Floats
    noise: Floats
    clipped: float
    shiny: float
    spread: float


def patch_at(pixels: Pixels | Levels, x: float, y: float, radius: float) -> Patch:
    """The disc of `radius` pixels around a point; single bright or dark specks are left out."""
    high, wide = pixels.shape[:2]
    r = max(3.0, radius)
    left, right = int(max(0, x - r)), int(min(wide, x + r + 1))
    top, bottom = int(max(0, y - r)), int(min(high, y + r + 1))
    rows, columns = np.mgrid[top:bottom, left:right]
    inside = (columns - x) ** 2 + (rows - y) ** 2 <= r * r
    levels = pixels[top:bottom, left:right][inside]
    return _patch(levels, x, y)


def _patch(levels: Pixels | Levels, x: float, y: float) -> Patch:
    if len(levels) == 0:
        levels = np.zeros((1, 3), np.uint8)
    linear = linear_from_encoded(levels.astype(np.float64) / 255)
    light = linear.mean(axis=1)
    middle = float(np.median(light))
    usual = max(float(np.median(np.abs(light - middle))) * 1.4826, 0.002)
    shiny = light > middle + 6 * usual + 0.15 * middle
    kept = linear[np.abs(light - middle) <= 3 * usual]
    return Patch(
        x=x,
        y=y,
        linear=kept.mean(axis=0),
        noise=kept.std(axis=0) / np.sqrt(len(kept)),
        clipped=float(np.mean((levels >= CLIPPED).any(axis=1))),
        shiny=float(np.mean(shiny)),
        spread=float(usual / max(middle, 0.01)),
    )
