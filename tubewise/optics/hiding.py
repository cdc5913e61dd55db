"""Hiding power: the contrast ratio of a drawdown (ISO 2814, ASTM D2805)."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.xyz import xyz_from_reflectance
from tubewise.optics.film import BLACK_GROUND, DRAWDOWN_FILM, WHITE_GROUND, film_reflectance
from tubewise.optics.surface import GLOSS, Surface, measured_from_internal


def contrast_ratio(
    K: ArrayLike,
    S: ArrayLike,
    X: float = DRAWDOWN_FILM,
    surface: Surface = GLOSS,
    light: str = "D65",
    observer: str = "2",
) -> Floats:
    """Y of the film over black divided by Y over white, in [0, 1]; 0.98 and above hides.

    K, S: (..., 36); returns (...). ISO 2814 and ASTM D2805 measure over cards of Y about 80 and
    below 5; ours are their flat counterparts inside the film.
    """
    Y = [
        xyz_from_reflectance(
            measured_from_internal(film_reflectance(K, S, X, ground), surface), light, observer
        )[..., 1]
        for ground in (BLACK_GROUND, WHITE_GROUND)
    ]
    return np.asarray(Y[0] / Y[1])
