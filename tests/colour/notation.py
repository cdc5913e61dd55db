"""The Munsell notation of one colour."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.munsell import munsells_from_lab


def notation_of(lab: ArrayLike) -> str:
    """The notation of one CIELAB colour, shape (3,)."""
    return munsells_from_lab(np.reshape(np.asarray(lab, dtype=np.float64), (1, 3)))[0]
