"""sRGB (IEC 61966-2-1): CIELAB as linear light, and light as encoded."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_relative, relative_from_lab

_XYZ_FROM_RGB: Final = np.array(
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
)
# The standard prints the inverse to four places only; inverting its matrix closes round trips.
_RGB_FROM_XYZ: Final = np.linalg.inv(_XYZ_FROM_RGB)
# CIELAB is relative to its white, so sRGB's own rounding of D65 makes white exactly #ffffff.
_WHITE: Final = _XYZ_FROM_RGB.sum(axis=1)


def encoded_from_linear(linear: ArrayLike) -> Floats:
    """SRGB values 0-1 as encoded, from linear light 0-1, any shape.

    Values out of range stay out of range: nothing is clipped. Source: IEC 61966-2-1.
    """
    linear = np.asarray(linear, dtype=np.float64)
    curve = 1.055 * np.maximum(linear, 0.0031308) ** (1.0 / 2.4) - 0.055
    return np.where(linear <= 0.0031308, 12.92 * linear, curve)


def linear_from_encoded(encoded: ArrayLike) -> Floats:
    """Linear light 0-1 from encoded sRGB values 0-1, any shape. Source: IEC 61966-2-1."""
    encoded = np.asarray(encoded, dtype=np.float64)
    curve = ((np.maximum(encoded, 0.04045) + 0.055) / 1.055) ** 2.4
    return np.where(encoded <= 0.04045, encoded / 12.92, curve)


def linear_from_lab(lab: ArrayLike) -> Floats:
    """Linear sRGB of CIELAB D65/2, shapes (..., 3); outside 0-1 where a screen cannot show it."""
    linear: Floats = (relative_from_lab(lab) * _WHITE) @ _RGB_FROM_XYZ.T
    return linear


def lab_from_linear(linear: ArrayLike) -> Floats:
    """CIELAB D65/2 of linear sRGB, shapes (..., 3)."""
    return lab_from_relative(np.asarray(linear, dtype=np.float64) @ _XYZ_FROM_RGB.T / _WHITE)
