"""A closer look at one tube, laid straight, where print seems to be missed."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

import numpy as np

from tubewise.labels.photo.finding import look
from tubewise.labels.photo.lines import Quad, length_and_height, lengthwise
from tubewise.pictures.opening import Pixels

WANTED: Final = 42.0  # pixels a line should be high
MOST_SIDE: Final = 1700
MAY_MISS: Final = 1.18  # times its own height between two lines: worth a closer look
MISSES: Final = 1.4  # a whole line has room here
INK: Final = 0.035  # share of a gap that is much darker or lighter than its paper


def around(quads: Sequence[Quad], way: Quad, spare: float = 0.0) -> Quad:
    """The smallest upright frame around lines, in the text's own direction, `spare` px larger."""
    across = np.array([-way[1], way[0]])
    points = np.concatenate(list(quads))
    s, t = points @ way, points @ across
    left, right, top, bottom = s.min() - spare, s.max() + spare, t.min() - spare, t.max() + spare
    corners = [(left, top), (right, top), (right, bottom), (left, bottom)]
    return np.array([x * way + y * across for x, y in corners])


def gaps(
    quads: Sequence[Quad], rows: Sequence[Sequence[int]], pixels: Pixels, least: float = MISSES
) -> list[Quad]:
    """Stretches between rows, `least` line heights apart, where print stands that was not found."""
    found = []
    for row, other in pairwise(rows):
        if least < _step(quads, row, other) < 6:
            upper, lower = quads[row[0]], quads[other[0]]
            between = np.array([upper[3], upper[2], lower[1], lower[0]])
            if _inked(between, pixels):
                found.append(between)
    return found


def _step(quads: Sequence[Quad], row: Sequence[int], other: Sequence[int]) -> float:
    """The distance of two rows in their own heights; 0 where the second begins a column."""
    upper, lower = quads[row[0]], quads[other[0]]
    down = (upper[3] - upper[0]) / max(float(np.linalg.norm(upper[3] - upper[0])), 1e-9)
    heights = length_and_height(upper)[1] + length_and_height(lower)[1]
    return 2 * float((lower.mean(axis=0) - upper.mean(axis=0)) @ down) / heights


def _inked(quad: Quad, pixels: Pixels) -> bool:
    import cv2

    long, high = length_and_height(quad)
    if min(long, high) < 4:
        return False
    size = max(16, min(600, round(long))), max(8, min(200, round(high)))
    target = np.array([[0, 0], [size[0], 0], [size[0], size[1]], [0, size[1]]], np.float32)
    flat = cv2.warpPerspective(
        pixels, cv2.getPerspectiveTransform(quad.astype(np.float32), target), size
    )
    grey = cv2.GaussianBlur(flat.mean(axis=2).astype(np.float32), (0, 0), 1.0)
    middle = grey[size[1] // 6 : -(size[1] // 6) or None]
    paper = float(np.median(middle))
    return float(np.mean(np.abs(middle - paper) > 0.22 * max(paper, 60.0))) > INK


def closer_look(quads: Sequence[Quad], way: Quad, pixels: Pixels) -> list[Quad]:
    """Lines that a closer look at the tube finds beside `quads`, in their direction."""
    import cv2

    heights = [length_and_height(quad)[1] for quad in quads]
    frame = around(quads, way, 2.2 * float(np.median(heights)))
    long = float(np.linalg.norm(frame[1] - frame[0]))
    high = float(np.linalg.norm(frame[3] - frame[0]))
    scale = min(2.0, WANTED / float(np.percentile(heights, 30)), MOST_SIDE / max(long, high))
    size = max(32, round(long * scale)), max(32, round(high * scale))
    target = np.array([[0, 0], [size[0], 0], [size[0], size[1]], [0, size[1]]], np.float32)
    warp = cv2.getPerspectiveTransform(frame.astype(np.float32), target)
    flags = cv2.INTER_LINEAR if scale > 0.6 else cv2.INTER_AREA
    flat = cv2.warpPerspective(pixels, warp, size, flags=flags, borderMode=cv2.BORDER_REPLICATE)
    back = np.linalg.inv(warp)
    found: list[Quad] = []
    for quad in look(np.asarray(flat, dtype=np.uint8), 1.0):
        upright = lengthwise(quad)
        mapped = cv2.perspectiveTransform(upright[None].astype(np.float64), back)[0]
        if not any(_same_place(mapped, other) for other in [*quads, *found]):
            found.append(np.asarray(mapped, dtype=np.float64))
    return found


def _same_place(new: Quad, old: Quad) -> bool:
    """Whether the middle of either line lies inside the other."""
    import cv2

    def inside(quad: Quad, point: Quad) -> bool:
        shape = quad.astype(np.float32)
        return cv2.pointPolygonTest(shape, (float(point[0]), float(point[1])), False) >= 0

    return inside(old, new.mean(axis=0)) or inside(new, old.mean(axis=0))
