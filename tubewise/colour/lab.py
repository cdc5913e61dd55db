"""CIELAB (ISO/CIE 11664-4) and its cylindrical form."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.lights import white_xyz
from tubewise.colour.xyz import xyz_from_reflectance

_DELTA: Final = 6.0 / 29.0
_SLOPE: Final = 1.0 / (3.0 * _DELTA**2)
_OFFSET: Final = 4.0 / 29.0


def lab_from_relative(t: ArrayLike) -> Floats:
    """CIELAB of tristimulus values already divided by their white, shapes (..., 3)."""
    t = np.asarray(t, dtype=np.float64)
    f = np.where(t > _DELTA**3, np.cbrt(t), _SLOPE * t + _OFFSET)
    x, y, z = f[..., 0], f[..., 1], f[..., 2]
    return np.stack((116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)), axis=-1)


def relative_from_lab(lab: ArrayLike) -> Floats:
    """Tristimulus values divided by their white, shapes (..., 3); undoes `lab_from_relative`."""
    lab = np.asarray(lab, dtype=np.float64)
    y = (lab[..., 0] + 16.0) / 116.0
    f = np.stack((y + lab[..., 1] / 500.0, y, y - lab[..., 2] / 200.0), axis=-1)
    return np.where(f > _DELTA, f * f * f, (f - _OFFSET) / _SLOPE)


def lab_from_xyz(xyz: ArrayLike, light: str = "D65", observer: str = "2") -> Floats:
    """CIELAB of XYZ (white Y = 100) seen under a light, shapes (..., 3).

    Raises `UserError` for an unknown light or observer. Source: ISO/CIE 11664-4.
    """
    return lab_from_relative(np.asarray(xyz, dtype=np.float64) / white_xyz(light, observer))


def xyz_from_lab(lab: ArrayLike, light: str = "D65", observer: str = "2") -> Floats:
    """XYZ (white Y = 100) of CIELAB under a light, shapes (..., 3).

    Raises `UserError` for an unknown light or observer. Source: ISO/CIE 11664-4.
    """
    return relative_from_lab(lab) * white_xyz(light, observer)


def lab_from_reflectance(R: ArrayLike, light: str = "D65", observer: str = "2") -> Floats:
    """CIELAB of surfaces of reflectance R under a light.

    R has shape (..., 36), 0-1 on the grid; returns (..., 3).
    Raises `UserError` for an unknown light or observer. Sources: ASTM E308, ISO/CIE 11664-4.
    """
    return lab_from_xyz(xyz_from_reflectance(R, light, observer), light, observer)


def lch_from_lab(lab: ArrayLike) -> Floats:
    """Lightness, chroma and hue angle of CIELAB, shapes (..., 3).

    The hue angle is in degrees, 0 <= h < 360; of an exact neutral it is 0.
    """
    lab = np.asarray(lab, dtype=np.float64)
    a, b = lab[..., 1], lab[..., 2]
    hue = np.degrees(np.arctan2(b, a)) % 360.0
    # A tiny negative angle modulo 360 rounds to 360 itself.
    hue = np.where((hue >= 360.0) | ((a == 0.0) & (b == 0.0)), 0.0, hue)
    return np.stack((lab[..., 0], np.hypot(a, b), hue), axis=-1)
