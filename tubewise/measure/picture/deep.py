"""Pictures of 16 bits a channel, which hold finer light than a JPEG."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

import numpy as np
import numpy.typing as npt

from tubewise.colour.srgb import encoded_from_linear, linear_from_encoded
from tubewise.errors import UserError
from tubewise.pictures.opening import Pixels

Levels = npt.NDArray[np.float32]
MOST: Final = 65535.0
_ORIENTATION: Final = 0x0112  # the tag of EXIF
_LOOKS: Final = 0.85  # linear light to which the brightest hundredth is brought to be looked at


def open_deep(path: Path, *, linear: bool) -> Levels:
    """Levels 0-255 in steps finer than one, float32 (height, width, 3), upright, sRGB's curve.

    `linear` says that the file holds linear light, as raw converters write it. The file was opened
    by `open_picture` before, which bounds it. Raises UserError where it has no 16 bits a channel.
    """
    import cv2

    found: Any = cv2.imdecode(np.fromfile(path, np.uint8), cv2.IMREAD_UNCHANGED)
    if found is None or found.dtype != np.uint16 or found.ndim != 3 or found.shape[2] < 3:
        raise UserError(
            "This picture doesn't hold 16 bits for each of three colours; have the raw converter "
            "write a linear TIFF or PNG of 16 bits.",
            where=path.name,
        )
    light = np.asarray(found[:, :, 2::-1], np.float32) / np.float32(MOST)
    encoded = encoded_from_linear(light) if linear else light
    return np.ascontiguousarray(_upright(encoded, _turn(path)) * 255, np.float32)


def _turn(path: Path) -> int:
    from PIL import Image

    with Image.open(path) as image:
        return int(image.getexif().get(_ORIENTATION, 1))


def _upright(pixels: Any, turn: int) -> Any:
    """The picture turned as EXIF's orientation says (Exif 2.32, tag 274)."""
    if turn in (5, 6, 7, 8):
        pixels = pixels.transpose(1, 0, 2)
    if turn in (3, 4, 7, 8):
        pixels = pixels[::-1]
    if turn in (2, 3, 6, 7):
        pixels = pixels[:, ::-1]
    return pixels


def to_look_at(levels: Levels) -> Pixels:
    """The same as a picture of 8 bits, each colour brightened so that things can be found on it.

    Linear light is dark, and a camera's own colours have a cast.
    """
    light = linear_from_encoded(levels / 255)
    most = np.percentile(light[::4, ::4].reshape(-1, 3), 99, axis=0)
    bright = encoded_from_linear(np.clip(light * (_LOOKS / np.maximum(most, 1e-4)), 0, 1))
    return np.ascontiguousarray(np.round(bright * 255), dtype=np.uint8)
