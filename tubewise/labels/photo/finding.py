"""Where print stands on a picture: a quick look first, a close one where the print is small."""

from __future__ import annotations

import os
from functools import lru_cache
from typing import Any, Final

import numpy as np

from tubewise.labels.photo.lines import Quad, direction, length_and_height, lengthwise
from tubewise.pictures.opening import Pixels

FIRST_SIDE: Final = 1280  # pixels of the longer side at the first look
CLOSE_HEIGHT: Final = 15.0  # lines lower than this at the first look are looked at closely
WANTED_HEIGHT: Final = 24.0
TILE: Final = 1280
OVERLAP: Final = 200


def threads() -> int:
    """Processor threads of the readers: OMP_NUM_THREADS where it is set, else two at most."""
    wished = os.environ.get("OMP_NUM_THREADS", "")
    return int(wished) if wished.isdigit() and int(wished) else min(2, os.cpu_count() or 1)


@lru_cache(maxsize=1)
def _finder() -> Any:
    from rapidocr import RapidOCR

    return RapidOCR(
        params={
            "EngineConfig.onnxruntime.intra_op_num_threads": threads(),
            "EngineConfig.onnxruntime.inter_op_num_threads": 1,
            "Global.log_level": "error",
            "Global.max_side_len": 4000,
            "Det.limit_side_len": 64,
        }
    )


def find_lines(pixels: Pixels) -> list[Quad]:
    """The quads of printed lines on uint8 RGB pixels, in no order."""
    high, wide = pixels.shape[:2]
    scale = min(1.0, FIRST_SIDE / max(high, wide))
    first = look(pixels, scale)
    heights = [length_and_height(quad)[1] * scale for quad in first]
    if scale == 1.0 or (heights and float(np.percentile(heights, 25)) >= CLOSE_HEIGHT):
        return first
    usual = float(np.median(heights)) if heights else 6.0
    close = min(1.0, scale * max(1.5, WANTED_HEIGHT / usual))
    left, top, right, bottom = _area(first, wide, high)
    found: list[Quad] = []
    step = (TILE - OVERLAP) / close
    for y in np.arange(top, max(top + 1, bottom - OVERLAP / close), step):
        for x in np.arange(left, max(left + 1, right - OVERLAP / close), step):
            x0, y0 = int(x), int(y)
            piece = pixels[y0 : y0 + int(TILE / close), x0 : x0 + int(TILE / close)]
            if min(piece.shape[:2]) >= 32:
                found += [quad + np.array([x0, y0]) for quad in look(piece, close)]
    return whole_lines(found) or first


def look(pixels: Pixels, scale: float) -> list[Quad]:
    """The lines found on pixels made `scale` times as large, at most 1."""
    import cv2

    small: Any = pixels
    if scale < 1.0:
        small = cv2.resize(pixels, None, fx=scale, fy=scale, interpolation=cv2.INTER_AREA)
    found = _finder()(
        np.ascontiguousarray(small[..., ::-1]), use_det=True, use_cls=False, use_rec=False
    )
    boxes = getattr(found, "boxes", None)
    return [] if boxes is None else [lengthwise(np.asarray(box) / scale) for box in boxes]


def _area(quads: list[Quad], wide: int, high: int) -> tuple[float, float, float, float]:
    """The part of the picture to look at closely: around all print, or everything."""
    if not quads:
        return 0.0, 0.0, float(wide), float(high)
    corners = np.concatenate(quads)
    spare = 0.12 * max(wide, high)
    left, top = np.maximum(corners.min(axis=0) - spare, 0.0)
    right, bottom = np.minimum(corners.max(axis=0) + spare, (wide, high))
    return float(left), float(top), float(right), float(bottom)


def whole_lines(quads: list[Quad]) -> list[Quad]:
    """Lines that tiles cut, joined; what was seen in two tiles stands once."""
    waiting = sorted(quads, key=lambda quad: -length_and_height(quad)[0])
    kept: list[Quad] = []
    for quad in waiting:
        for place, other in enumerate(kept):
            joined = _joined(other, quad)
            if joined is not None:
                kept[place] = joined
                break
        else:
            kept.append(quad)
    return kept if len(kept) == len(quads) else whole_lines(kept)


def _joined(first: Quad, other: Quad) -> Quad | None:
    """Both as one line, where they overlap along the same line of print."""
    way = direction(first)
    across = np.array([-way[1], way[0]])
    height = min(length_and_height(first)[1], length_and_height(other)[1])
    # Nearly square bits have no direction to go by; a bit inside a line belongs to it.
    has_direction = length_and_height(other)[0] > 1.6 * length_and_height(other)[1]
    if has_direction and abs(float(direction(other) @ across)) > 0.2:
        return None
    middle = other.mean(axis=0) - first[0]
    up, down = 0.0, float((first[3] - first[0]) @ across)
    if not up - 0.1 * height <= float(middle @ across) <= down + 0.1 * height:
        return None
    if abs(float((other.mean(axis=0) - first.mean(axis=0)) @ across)) > 0.5 * height:
        return None
    a = (first - first[0]) @ way
    b = (other - first[0]) @ way
    if b.min() > a.max() or a.min() > b.max():
        return None
    points = np.concatenate([first, other]) - first[0]
    s, t = points @ way, points @ across
    if t.max() - t.min() > 1.7 * length_and_height(first)[1]:
        return None
    corners = [(s.min(), t.min()), (s.max(), t.min()), (s.max(), t.max()), (s.min(), t.max())]
    found: Quad = np.array([first[0] + x * way + y * across for x, y in corners])
    return found
