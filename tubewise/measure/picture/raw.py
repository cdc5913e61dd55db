"""What a camera's sensor saw: raw files, as linear light in the camera's own colours."""

from __future__ import annotations

from pathlib import Path
from typing import Final

import numpy as np

from tubewise.colour.srgb import encoded_from_linear
from tubewise.errors import UserError
from tubewise.limits import LEAST_SIDE, MOST_PICTURE_BYTES, MOST_PIXELS
from tubewise.measure.picture.deep import MOST, Levels

# Adobe's open negative and the makers' own.
KINDS: Final = (
    ".dng", ".arw", ".cr2", ".cr3", ".nef", ".nrw", ".orf", ".pef", ".raf", ".rw2", ".srw",
)  # fmt: skip


def is_raw(path: Path) -> bool:
    """Whether a file is named as a raw picture."""
    return path.suffix.casefold() in KINDS


def open_raw(path: Path) -> Levels:
    """Levels as `open_deep` gives them: float32 (height, width, 3), upright, sRGB's curve.

    Only the mosaic is filled in: no white balance, no colours but the camera's, no brightening.
    Raises UserError for what is no raw picture, too large or too small, and where the reader of raw
    files (LibRaw, in the package rawpy) isn't installed.
    """
    try:
        import rawpy
    except ImportError:
        raise UserError(
            "Raw pictures need one more part. Install it once with: pip install rawpy",
            where=path.name,
        ) from None
    if path.stat().st_size > MOST_PICTURE_BYTES:
        raise UserError(
            f"This file is larger than {MOST_PICTURE_BYTES // 2**20} MB.", where=path.name
        )
    try:
        with rawpy.imread(str(path)) as raw:
            wide, high = raw.sizes.width, raw.sizes.height
            if wide * high > MOST_PIXELS or min(wide, high) < LEAST_SIDE:
                raise UserError(
                    f"This raw picture has {wide} by {high} pixels; from {LEAST_SIDE} a side to "
                    f"{MOST_PIXELS // 10**6} million in all are read.",
                    where=path.name,
                )
            light = raw.postprocess(
                gamma=(1, 1),
                no_auto_bright=True,
                output_bps=16,
                user_wb=[1.0, 1.0, 1.0, 1.0],
                output_color=rawpy.ColorSpace.raw,
            )
    except rawpy.LibRawError:
        raise UserError(
            "This raw picture is damaged, or of a camera that LibRaw doesn't know; have the "
            "camera's own program write a linear TIFF of 16 bits.",
            where=path.name,
        ) from None
    encoded = encoded_from_linear(np.asarray(light, np.float32) / np.float32(MOST))
    return np.ascontiguousarray(encoded * 255, np.float32)
