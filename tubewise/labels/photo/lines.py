"""Printed lines on a picture: where they stand, and what each sign of theirs may be."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import numpy.typing as npt

Quad = npt.NDArray[np.float64]
"""Four corners (x, y) in pixels, from the top left of the text on, clockwise: shape (4, 2)."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Sign:
    """A character as read: its probability 0-1, what else it may be, its place 0-1 on the line.

    `seen` is the figure that was read where a letter of the same shape stands for it, else "".
    """

    character: str
    probability: float
    others: tuple[tuple[str, float], ...]
    place: float
    seen: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class PrintedLine:
    """One line of print; `second` is the text of an independent second look, "" without one."""

    quad: Quad
    signs: tuple[Sign, ...]
    second: str = ""

    @property
    def text(self) -> str:
        """The signs as read."""
        return "".join(sign.character for sign in self.signs)

    @property
    def score(self) -> float:
        """The mean probability of the signs; 0 without any."""
        return float(np.mean([sign.probability for sign in self.signs])) if self.signs else 0.0


def length_and_height(quad: Quad) -> tuple[float, float]:
    """Pixels along the text and across it."""
    along = (np.linalg.norm(quad[1] - quad[0]) + np.linalg.norm(quad[2] - quad[3])) / 2
    across = (np.linalg.norm(quad[3] - quad[0]) + np.linalg.norm(quad[2] - quad[1])) / 2
    return float(along), float(across)


def direction(quad: Quad) -> npt.NDArray[np.float64]:
    """The unit vector along the text."""
    along = (quad[1] + quad[2] - quad[0] - quad[3]) / 2
    found: npt.NDArray[np.float64] = along / max(float(np.linalg.norm(along)), 1e-9)
    return found


def lengthwise(quad: Any) -> Quad:
    """The same corners with the long side first, reading to the right or downwards."""
    corners: Quad = np.asarray(quad, dtype=np.float64).reshape(4, 2)
    long, high = length_and_height(corners)
    if high > long:
        corners = np.roll(corners, -1, axis=0)
    way = direction(corners)
    if way[0] < -0.5 or (abs(way[0]) <= 0.5 and way[1] < 0):
        corners = np.roll(corners, 2, axis=0)
    return corners


def turned(quad: Quad) -> Quad:
    """The corners of the same text upside down."""
    found: Quad = np.roll(quad, 2, axis=0)
    return found


def part(quad: Quad, start: float, end: float) -> Quad:
    """The stretch of a line between two places, 0-1 along it."""
    top, bottom = quad[1] - quad[0], quad[2] - quad[3]
    found: Quad = np.array(
        [
            quad[0] + top * start,
            quad[0] + top * end,
            quad[3] + bottom * end,
            quad[3] + bottom * start,
        ]
    )
    return found
