"""Pages as small PNG files: scaled down, the same bytes each time."""

from __future__ import annotations

import io

from PIL import Image


def small_png(page: bytes, width: int, height: int) -> bytes:
    """A PNG of the upper part of a page given as PNG, `width` by at most `height` pixels.

    Colours are kept as they are: fewer would turn neighbouring swatches into one.
    """
    image = Image.open(io.BytesIO(page)).convert("RGB")
    image = image.resize(
        (width, round(image.height * width / image.width)), Image.Resampling.LANCZOS
    )
    out = io.BytesIO()
    image.crop((0, 0, width, min(height, image.height))).save(out, "PNG", optimize=True)
    return out.getvalue()
