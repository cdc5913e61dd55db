"""Where daubs lie on a picture's paper, when nobody has pointed at them."""

from __future__ import annotations

from typing import Any, Final

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.srgb import lab_from_linear, linear_from_encoded
from tubewise.measure.picture.light import Light
from tubewise.pictures.opening import Pixels

SIDE: Final = 800
LEAST_DIFFERENCE: Final = 9.0  # CIE76 from the paper that is a daub and no stain
MOST: Final = 24
Point = tuple[float, float, float]
"""A daub: x, y and a radius that lies inside it, in pixels."""


def find_daubs(
    pixels: Pixels, light: Light, paper: Any, taken: Floats, reach: float
) -> list[Point]:
    """Daubs on the paper, row by row from the top left, at most 24.

    `taken` (n, 2) are middles of known patches and `reach` how far they go; nothing is looked for
    there.
    """
    import cv2

    scale = min(1.0, SIDE / max(pixels.shape[:2]))
    small = cv2.resize(pixels, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    high, wide = small.shape[:2]
    y, x = np.mgrid[:high, :wide] / scale
    linear = linear_from_encoded(np.asarray(small, dtype=np.float64) / 255)
    linear /= light.gains(x, y)[..., None]
    sheet = cv2.resize(paper.astype(np.uint8), (wide, high), interpolation=cv2.INTER_NEAREST)
    if not sheet.any():
        return []
    own = np.median(linear[sheet.astype(bool)], axis=0)
    lab = lab_from_linear(np.clip(linear / own * 0.85, 0, 1.2))
    white = lab_from_linear(np.full(3, 0.85))
    different = (np.linalg.norm(lab - white, axis=2) > LEAST_DIFFERENCE).astype(np.uint8)
    hull = cv2.convexHull(cv2.findNonZero(sheet))
    inside = cv2.fillConvexPoly(np.zeros((high, wide), np.uint8), hull, 1)
    for cx, cy in taken * scale:
        cv2.circle(inside, (round(cx), round(cy)), max(2, round(reach * scale)), 0, -1)
    marks = cv2.morphologyEx(different & inside, cv2.MORPH_OPEN, np.ones((5, 5), np.uint8))
    _, _, stats, middles = cv2.connectedComponentsWithStats(marks)
    found = []
    for (left, top, w, h, area), (mx, my) in zip(stats[1:], middles[1:], strict=True):
        u, v = (taken * scale).reshape(-1, 2).T
        if ((u >= left) & (u <= left + w) & (v >= top) & (v <= top + h)).any():
            continue  # the rim of something known
        whole = 0.00015 < area / (high * wide) < 0.06 and 0.4 < w / h < 2.5
        if whole and area > 0.5 * w * h:
            radius = 0.55 * float(np.sqrt(area / np.pi))
            found.append((float(mx / scale), float(my / scale), radius / scale))
    rows = max((r for _, _, r in found), default=1.0) * 4
    return sorted(found, key=lambda p: (p[1] // rows, p[0]))[:MOST]
