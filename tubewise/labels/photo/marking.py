"""The picture with its lines of print and its doubts drawn in."""

from __future__ import annotations

from typing import Final

import numpy as np

from tubewise.labels.photo.photo_reading import Corners, PhotoReading
from tubewise.pictures.opening import Pixels

READ: Final = (0, 110, 60)  # a code that is read
DOUBTED: Final = (190, 20, 20)
PRINT: Final = (90, 90, 90)
SIDE: Final = 2600  # pixels of the longer side


def marked(pixels: Pixels, found: PhotoReading) -> Pixels:
    """A copy, at most 2,600 pixels wide or high: lines framed thin, codes green, doubts red.

    Doubts carry their number and candidates; the numbers run through the whole photograph.
    """
    from PIL import Image, ImageDraw, ImageFont

    scale = min(1.0, SIDE / max(pixels.shape[:2]))
    image = Image.fromarray(pixels).resize(
        (round(pixels.shape[1] * scale), round(pixels.shape[0] * scale))
    )
    pen = ImageDraw.Draw(image)
    size = max(14, round(0.016 * max(image.size)))
    font = ImageFont.load_default(size)

    def frame(corners: Corners, colour: tuple[int, int, int], width: int) -> None:
        points = [(x * scale, y * scale) for x, y in corners]
        pen.line([*points, points[0]], fill=colour, width=width, joint="curve")

    number = 0
    for tube in found.tubes:
        for line in tube.lines:
            frame(line.corners, PRINT, 1)
        for corners in tube.code_corners:
            if corners:
                frame(corners, READ, 3)
        below = 0.0  # notes stand beside the tube, none over another
        numbered = list(enumerate(tube.doubts, number + 1))
        number += len(numbered)
        for own, doubt in sorted(numbered, key=lambda pair: _height(pair[1].corners)):
            if not doubt.corners:
                continue
            frame(doubt.corners, DOUBTED, 4)
            words = " or ".join(doubt.candidates) or "?"
            x = min(max(x for x, _ in tube.corners) * scale + 14, image.width - 60)
            middle = sum(y for _, y in doubt.corners) / 4 * scale
            edge = max(x for x, _ in doubt.corners) * scale
            y = max(middle - size / 2, below)
            below = y + 1.5 * size
            pen.line([(edge, middle), (x, y + size / 2)], fill=DOUBTED, width=2)
            box = pen.textbbox((x, y), f"{own}  {words}", font=font)
            pen.rectangle((box[0] - 4, box[1] - 3, box[2] + 4, box[3] + 3), fill=(255, 255, 255))
            pen.text((x, y), f"{own}  {words}", font=font, fill=DOUBTED)
    return np.asarray(image, dtype=np.uint8)


def _height(corners: Corners) -> float:
    return sum(y for _, y in corners)
