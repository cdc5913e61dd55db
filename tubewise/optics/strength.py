"""Tinting strength: how far one paint goes in white against another (ASTM D4838)."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tubewise.optics.mixture import mix

Floats = NDArray[np.float64]


def tint(
    K: ArrayLike, S: ArrayLike, K_white: ArrayLike, S_white: ArrayLike, share: float
) -> tuple[Floats, Floats]:
    """K and S (..., bands) of a paint taking `share` (0 to 1) of a mixture with white."""
    K, K_white = np.broadcast_arrays(np.asarray(K, float), np.asarray(K_white, float))
    S, S_white = np.broadcast_arrays(np.asarray(S, float), np.asarray(S_white, float))
    return mix(
        np.stack([K, K_white], axis=-2), np.stack([S, S_white], axis=-2), [share, 1.0 - share]
    )


def relative_strength(
    K: ArrayLike,
    S: ArrayLike,
    K_standard: ArrayLike,
    S_standard: ArrayLike,
    K_white: ArrayLike,
    S_white: ArrayLike,
    share: float = 0.1,
) -> float:
    """Tinting strength of a paint against a standard: 1 is equal, 2 goes twice as far.

    All (bands,). Compares K/S of equal tints at the band where the standard's tint absorbs most,
    as ASTM D4838 does, the white's own K/S taken off (from memory).
    """
    Kt, St = tint(K, S, K_white, S_white, share)
    Ks, Ss = tint(K_standard, S_standard, K_white, S_white, share)
    white = np.asarray(K_white, float) / np.asarray(S_white, float)
    standard = Ks / Ss - white
    band = int(np.argmax(standard))
    return float((Kt[band] / St[band] - white[band]) / standard[band])


def replacing_parts(
    K_weak: ArrayLike,
    S_weak: ArrayLike,
    K_strong: ArrayLike,
    S_strong: ArrayLike,
    K_white: ArrayLike,
    S_white: ArrayLike,
    white_parts: float = 10.0,
) -> float:
    """Parts of the weaker paint that tint as one part of the stronger does in `white_parts` white.

    All (bands,). Solved exactly at the band where the stronger tint absorbs most; infinite when
    no amount of the weaker paint gets there.
    """
    Kw, Sw = np.asarray(K_white, float), np.asarray(S_white, float)
    Kt, St = tint(K_strong, S_strong, Kw, Sw, 1.0 / (1.0 + white_parts))
    band = int(np.argmax(Kt / St - Kw / Sw))
    q = Kt[band] / St[band]
    need = white_parts * (q * Sw[band] - Kw[band])
    gain = np.asarray(K_weak, float)[band] - q * np.asarray(S_weak, float)[band]
    return float(need / gain) if gain > 0.0 else float("inf")
