"""Mixtures of paints: K and S add up by volume (Duncan, Proc. Phys. Soc. 52, 1940)."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats


def shares(parts: ArrayLike) -> Floats:
    """Parts by volume (..., n), not negative, as shares that sum to 1.

    Raises ValueError when a part is negative or all are zero.
    """
    parts = np.asarray(parts, dtype=np.float64)
    total = parts.sum(axis=-1, keepdims=True)
    if np.any(parts < 0.0) or np.any(total <= 0.0) or not np.all(np.isfinite(parts)):
        raise ValueError("parts must be finite, not negative, and at least one above zero")
    return np.asarray(parts / total)


def mix(K: ArrayLike, S: ArrayLike, parts: ArrayLike) -> tuple[Floats, Floats]:
    """K and S, each (..., bands), of a mixture: two constants, weighted by volume.

    K, S: (..., n, bands); parts: (..., n), scaled to shares here. K = sum c_i K_i and the same
    for S (Duncan 1940).
    """
    c = shares(parts)
    K_mix = np.einsum("...n,...nb->...b", c, np.asarray(K, dtype=np.float64))
    S_mix = np.einsum("...n,...nb->...b", c, np.asarray(S, dtype=np.float64))
    return K_mix, S_mix
