"""Reflectance to tristimulus values."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.lights import weights


def xyz_from_reflectance(R: ArrayLike, light: str = "D65", observer: str = "2") -> Floats:
    """XYZ of surfaces of reflectance R under a light.

    R has shape (..., 36), 0-1 on the grid; returns (..., 3) with Y = 100 for a perfect white.
    Raises `UserError` for an unknown light or observer. Source: ASTM E308, table of 10 nm weights.
    """
    xyz: Floats = np.asarray(R, dtype=np.float64) @ weights(light, observer)
    return xyz
