"""Colour difference CIEDE2000, whole and in its parts."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats

_TURN = 2.0 * np.pi
_25_TO_7 = 25.0**7
_COS_30, _SIN_30 = np.cos(np.radians(30.0)), np.sin(np.radians(30.0))
_COS_6, _SIN_6 = np.cos(np.radians(6.0)), np.sin(np.radians(6.0))
_COS_63, _SIN_63 = np.cos(np.radians(63.0)), np.sin(np.radians(63.0))
# Pairs worked on at a time, so that the intermediate arrays stay in the processor's cache.
_BLOCK = 4096


@dataclass(frozen=True, slots=True)
class Differences:
    """The parts of CIEDE2000, each in units of the whole and signed from the first to the second.

    Arrays of one shape: `lightness` > 0 is lighter, `chroma` > 0 more chromatic, `hue` > 0 turned
    counter-clockwise (red towards yellow, green, blue). `turning` is the rotation term RT that
    couples chroma and hue in the blues.
    """

    lightness: Floats
    chroma: Floats
    hue: Floats
    turning: Floats

    @property
    def whole(self) -> Floats:
        """CIEDE2000 of the parts."""
        c, h = self.chroma, self.hue
        squared = self.lightness**2 + c * c + h * h + self.turning * c * h
        return np.asarray(np.sqrt(np.maximum(squared, 0.0)))


def delta_e_2000(lab1: ArrayLike, lab2: ArrayLike) -> Floats:
    """CIEDE2000 difference of colours, kL = kC = kH = 1.

    The arrays (..., 3) broadcast against each other; returns their shape without the last axis.
    Symmetric, zero for equal colours. Source: ISO/CIE 11664-6; the treatment of hue differences
    and means follows Sharma, Wu & Dalal 2005.
    """
    lab1 = np.asarray(lab1, dtype=np.float64)
    lab2 = np.asarray(lab2, dtype=np.float64)
    shape = np.broadcast_shapes(lab1.shape, lab2.shape)[:-1]
    if np.prod(shape) <= _BLOCK:
        return _whole(lab1, lab2)
    first = lab1 if lab1.ndim == 1 else np.broadcast_to(lab1, (*shape, 3)).reshape(-1, 3)
    two = lab2 if lab2.ndim == 1 else np.broadcast_to(lab2, (*shape, 3)).reshape(-1, 3)
    whole = np.empty(np.prod(shape))
    for start in range(0, len(whole), _BLOCK):
        block = slice(start, start + _BLOCK)
        whole[block] = _whole(
            first if first.ndim == 1 else first[block], two if two.ndim == 1 else two[block]
        )
    return whole.reshape(shape)


def _whole(lab1: Floats, lab2: Floats) -> Floats:
    return differences_2000(lab1, lab2).whole


def _to_the_7th(x: Floats) -> Floats:
    square = x * x
    return square * square * square * x


def differences_2000(lab1: ArrayLike, lab2: ArrayLike) -> Differences:
    """Lightness, chroma and hue parts of CIEDE2000 from `lab1` to `lab2`, broadcasting (..., 3).

    Source: ISO/CIE 11664-6.
    """
    lab1 = np.asarray(lab1, dtype=np.float64)
    lab2 = np.asarray(lab2, dtype=np.float64)
    L1, a1, b1 = lab1[..., 0], lab1[..., 1], lab1[..., 2]
    L2, a2, b2 = lab2[..., 0], lab2[..., 1], lab2[..., 2]

    c7 = _to_the_7th(0.5 * (np.sqrt(a1 * a1 + b1 * b1) + np.sqrt(a2 * a2 + b2 * b2)))
    stretch = 1.5 - 0.5 * np.sqrt(c7 / (c7 + _25_TO_7))
    a1, a2 = a1 * stretch, a2 * stretch
    C1, C2 = np.sqrt(a1 * a1 + b1 * b1), np.sqrt(a2 * a2 + b2 * b2)
    h1, h2 = np.arctan2(b1, a1), np.arctan2(b2, a2)
    h1, h2 = h1 + (h1 < 0.0) * _TURN, h2 + (h2 < 0.0) * _TURN
    grey = C1 * C2 == 0.0

    turn = h2 - h1
    far = np.abs(turn) > np.pi
    dh = np.where(grey, 0.0, turn - np.where(far, np.copysign(_TURN, turn), 0.0))
    total = h1 + h2
    mean_h = np.where(far, total + np.where(total < _TURN, _TURN, -_TURN), total)
    mean_h = np.where(grey, total, 0.5 * mean_h)

    dL, dC = L2 - L1, C2 - C1
    dH = 2.0 * np.sqrt(C1 * C2) * np.sin(0.5 * dh)
    mean_L, mean_C = 0.5 * (L1 + L2), 0.5 * (C1 + C2)

    # The cosines of 1-4 times the mean hue by the addition theorem, from one sine and cosine.
    c1, s1 = np.cos(mean_h), np.sin(mean_h)
    c2, s2 = 2.0 * c1 * c1 - 1.0, 2.0 * s1 * c1
    c3, s3 = c2 * c1 - s2 * s1, s2 * c1 + c2 * s1
    c4, s4 = 2.0 * c2 * c2 - 1.0, 2.0 * s2 * c2
    T = (
        1.0
        - 0.17 * (_COS_30 * c1 + _SIN_30 * s1)
        + 0.24 * c2
        + 0.32 * (_COS_6 * c3 - _SIN_6 * s3)
        - 0.20 * (_COS_63 * c4 + _SIN_63 * s4)
    )
    from_50 = (mean_L - 50.0) ** 2
    SL = 1.0 + 0.015 * from_50 / np.sqrt(20.0 + from_50)
    SC = 1.0 + 0.045 * mean_C
    SH = 1.0 + 0.015 * mean_C * T
    turning = np.radians(30.0) * np.exp(-(((np.degrees(mean_h) - 275.0) / 25.0) ** 2))
    m7 = _to_the_7th(mean_C)
    RT = -np.sin(2.0 * turning) * 2.0 * np.sqrt(m7 / (m7 + _25_TO_7))

    return Differences(dL / SL, dC / SC, dH / SH, RT)
