"""How the light falls off over a picture, seen on its paper."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.srgb import linear_from_encoded
from tubewise.pictures.opening import Pixels

GRID: Final = 240  # pixels of the longer side on which the light is fitted
LEAST_PAPER: Final = 0.06  # share of the picture that must be paper


@dataclass(frozen=True, kw_only=True, slots=True)
class Light:
    """A smooth field of light: log gain is a quadratic in x and y, 0 at the picture's middle.

    `share` of the picture was taken as paper, with `spread` of what is left unexplained (log).
    """

    terms: Floats
    wide: int
    high: int
    share: float
    spread: float

    def gain(self, x: float, y: float) -> float:
        """The light at a point, 1 where it is as in the middle."""
        return float(
            np.exp(_terms(np.array([x]), np.array([y]), self.wide, self.high) @ self.terms)[0]
        )

    def gains(self, x: Any, y: Any) -> Floats:
        """The same at many points."""
        found: Floats = np.exp(
            _terms(np.asarray(x), np.asarray(y), self.wide, self.high) @ self.terms
        )
        return found


def even_light(pixels: Pixels) -> Light:
    """Light that is the same everywhere, for a picture without paper."""
    high, wide = pixels.shape[:2]
    return Light(terms=np.zeros(5), wide=wide, high=high, share=0.0, spread=0.0)


def light_on(pixels: Pixels) -> tuple[Light, Any]:
    """The field of light on the picture's paper, and the mask of paper at the picture's size.

    Paper is the largest bright part without much colour of its own. Where there is too little of
    it the light counts as even.
    """
    import cv2

    high, wide = pixels.shape[:2]
    scale = min(1.0, GRID / max(high, wide))
    small = cv2.resize(pixels, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    linear = linear_from_encoded(np.asarray(small, dtype=np.float64) / 255)
    light = np.log(np.maximum(linear.mean(axis=2), 1e-4))
    flat = np.hypot(*np.gradient(cv2.GaussianBlur(light.astype(np.float32), (0, 0), 0.8))) < 0.05
    shares = linear / np.maximum(linear.sum(axis=2, keepdims=True), 1e-6)
    bright = flat & (light > np.percentile(light[flat], 80) - 0.35) if flat.any() else flat
    if not bright.any():
        return even_light(pixels), np.zeros((high, wide), bool)
    tone = np.median(shares[bright], axis=0)
    own = np.abs(shares - tone).max(axis=2) < 0.02
    y, x = np.mgrid[: small.shape[0], : small.shape[1]] / scale
    chosen = flat & own & (light > np.percentile(light[bright], 50) - 0.9)
    terms = np.zeros(5)
    base = float(np.median(light[chosen])) if chosen.any() else 0.0
    for _ in range(6):
        if chosen.sum() < 60:
            return even_light(pixels), np.zeros((high, wide), bool)
        design = np.column_stack([np.ones(chosen.sum()), _terms(x[chosen], y[chosen], wide, high)])
        ridge = np.diag([0.0, 1, 1, 4, 4, 4]) * 1e-3 * chosen.sum()
        solved = np.linalg.solve(design.T @ design + ridge, design.T @ light[chosen])
        base, terms = float(solved[0]), solved[1:]
        field = base + _terms(x.ravel(), y.ravel(), wide, high).reshape(*x.shape, 5) @ terms
        chosen = flat & own & (np.abs(light - field) < 0.09)
    share = float(np.mean(chosen))
    if share < LEAST_PAPER:
        return even_light(pixels), np.zeros((high, wide), bool)
    paper = cv2.resize(chosen.astype(np.uint8), (wide, high), interpolation=cv2.INTER_NEAREST)
    left = float(np.std((light - field)[chosen]))
    found = Light(terms=terms, wide=wide, high=high, share=share, spread=left)
    return found, paper.astype(bool)


def _terms(x: Any, y: Any, wide: int, high: int) -> Floats:
    u, v = 2 * np.asarray(x) / wide - 1, 2 * np.asarray(y) / high - 1
    return np.stack([u, v, u * u, u * v, v * v], axis=-1)
