"""Colours by lightness, chroma and hue, as tests name them."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats


def lab_from_lch(lch: ArrayLike) -> Floats:
    """CIELAB of lightness, chroma and hue angle in degrees, shapes (..., 3)."""
    lch = np.asarray(lch, dtype=np.float64)
    hue = np.radians(lch[..., 2])
    return np.stack((lch[..., 0], lch[..., 1] * np.cos(hue), lch[..., 1] * np.sin(hue)), axis=-1)
