"""Write pixels as a file that holds the picture and nothing else."""

from __future__ import annotations

from collections.abc import Sequence
from io import BytesIO
from pathlib import Path

from tubewise.errors import UserError
from tubewise.pictures.opening import Pixels


def jpeg(pixels: Pixels, *, most_side: int = 2000, quality: int = 82) -> bytes:
    """A JPEG of (height, width, 3) sRGB pixels, at most `most_side` wide or high, without EXIF."""
    from PIL import Image

    image = Image.fromarray(pixels)
    image.thumbnail((most_side, most_side))
    saved = BytesIO()
    image.save(saved, "JPEG", quality=quality, optimize=True)
    return saved.getvalue()


def make_folder(folder: Path) -> None:
    """Make a folder to write pictures into, unless it is there. Raises UserError."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise UserError(
            f"This folder can't be made ({error.strerror}); choose another.", where=str(folder)
        ) from None


def cropped(path: Path, box: tuple[float, float, float, float], whole: tuple[int, int]) -> bytes:
    """A part of a picture of ours as JPEG.

    `box` is left, top, right and bottom in pixels of a picture `whole` (width, height) large,
    which the file may hold in another size.
    """
    from PIL import Image

    with Image.open(path) as image:
        scale = image.width / whole[0]
        left, top, right, bottom = (round(value * scale) for value in box)
        part = image.crop(
            (max(left, 0), max(top, 0), min(right, image.width), min(bottom, image.height))
        )
        saved = BytesIO()
        part.save(saved, "JPEG", quality=85, optimize=True)
    return saved.getvalue()


def straightened(
    path: Path,
    corners: Sequence[tuple[float, float]],
    whole: tuple[int, int],
    *,
    spare: float = 2.0,
) -> bytes:
    """A line of print from a picture of ours, laid straight, as JPEG.

    `corners` run clockwise from the top left of the print, in pixels of a picture `whole` (width,
    height) large; `spare` of the line's height is shown before and after it.
    """
    import numpy as np
    from PIL import Image

    with Image.open(path) as image:
        quad = np.array(corners) * (image.width / whole[0])
        along, down = quad[1] - quad[0], quad[3] - quad[0]
        high = max(float(np.linalg.norm(down)), 2.0)
        step = along / max(float(np.linalg.norm(along)), 1e-6) * high * spare
        down = down * 0.25
        left, right = quad[[0, 3]] - step, quad[[1, 2]] + step
        # Pillow takes the corners from the top left on, the other way round.
        order = [left[0] - down, left[1] + down, right[1] + down, right[0] - down]
        long = float(np.linalg.norm(right[0] - left[0]))
        size = (max(16, round(64 * long / (1.5 * high))), 64)
        flat = image.transform(
            size, Image.Transform.QUAD, np.concatenate(order).tolist(), Image.Resampling.BICUBIC
        )
        saved = BytesIO()
        flat.convert("RGB").save(saved, "JPEG", quality=85)
    return saved.getvalue()
