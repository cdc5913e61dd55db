"""Open a picture: its kind and size are looked at first, then its pixels, turned upright."""

from __future__ import annotations

import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

import numpy as np
import numpy.typing as npt

from tubewise.errors import UserError
from tubewise.limits import LEAST_SIDE, MOST_PICTURE_BYTES, MOST_PIXELS

if TYPE_CHECKING:
    from PIL.Image import Image

Pixels = npt.NDArray[np.uint8]
KINDS: Final = (".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".tif", ".tiff")
_FORMATS: Final = ("JPEG", "MPO", "PNG", "WEBP", "TIFF", "HEIF")
_BLACK: Final = 10.0  # levels of 255 that the brightest hundredth must reach


def open_picture(source: Path | bytes, *, where: str = "") -> Pixels:
    """The picture's pixels, upright: uint8 of (height, width, 3), sRGB.

    Whatever else the file holds (place, time, telephone) is left behind. Raises UserError with one
    sentence for what is no picture, too large, animated, too small or black.
    """
    name = where or (source.name if isinstance(source, Path) else "the picture")
    data = _bytes(source, name)
    with _opened(data, name) as image:
        _refuse(image, name)
        pixels = _upright(image)
    if float(np.percentile(pixels[::8, ::8].max(axis=2), 99)) < _BLACK:
        raise UserError("This picture is black. Take it again with more light.", where=name)
    return pixels


def _bytes(source: Path | bytes, name: str) -> bytes:
    if isinstance(source, bytes):
        data = source
    else:
        try:
            if source.stat().st_size > MOST_PICTURE_BYTES:
                raise _too_many_bytes(name)
            data = source.read_bytes()
        except OSError as error:
            raise UserError(
                f"This file can't be read ({error.strerror}); check its name.", where=name
            ) from None
    if not data:
        raise UserError("This file is empty; send the picture again.", where=name)
    if len(data) > MOST_PICTURE_BYTES:
        raise _too_many_bytes(name)
    return data


def _too_many_bytes(name: str) -> UserError:
    return UserError(
        f"This file is larger than {MOST_PICTURE_BYTES // 2**20} MB; make the picture smaller.",
        where=name,
    )


@contextmanager
def _opened(data: bytes, name: str) -> Iterator[Image]:
    from PIL import Image, UnidentifiedImageError

    try:
        import pillow_heif

        pillow_heif.register_heif_opener()
    except ImportError:  # HEIC is then one more kind that is not read
        pass
    Image.init()
    formats: list[str] = [known for known in _FORMATS if known in Image.OPEN]
    # Our own bound comes first and speaks plainly; Pillow's would only warn.
    Image.MAX_IMAGE_PIXELS = 4 * MOST_PIXELS
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            with Image.open(BytesIO(data), formats=formats) as image:
                yield image
    except UserError:
        raise
    except Image.DecompressionBombError:
        raise _too_many_pixels(name) from None
    except UnidentifiedImageError:
        raise UserError(
            f"This is no picture that can be read here; send one of {', '.join(KINDS)}.",
            where=name,
        ) from None
    # The libraries fail on damaged pictures with errors of many kinds.
    except Exception:
        raise UserError("This picture is damaged or cut off; send it again.", where=name) from None


def _refuse(image: Image, name: str) -> None:
    wide, high = image.size
    if wide * high > MOST_PIXELS:
        raise _too_many_pixels(name)
    if min(wide, high) < LEAST_SIDE:
        raise UserError(
            f"This picture is only {wide} by {high} pixels; nothing can be read on it.", where=name
        )
    # A telephone's MPO holds the same view twice; only moving pictures are refused.
    if image.format not in ("MPO", "HEIF", "TIFF") and getattr(image, "n_frames", 1) > 1:
        raise UserError("This picture moves; send a still one.", where=name)


def _too_many_pixels(name: str) -> UserError:
    return UserError(
        f"This picture has more than {MOST_PIXELS // 10**6} million pixels; make it smaller.",
        where=name,
    )


def _upright(image: Image) -> Pixels:
    from PIL import ImageOps

    turned: Any = ImageOps.exif_transpose(image)
    if turned.mode.startswith("I;16"):
        # Pillow would cut off what is above 255, and nearly every grey would be white.
        grey = (np.asarray(turned) >> 8).astype(np.uint8)
        return np.repeat(grey[:, :, None], 3, axis=2)
    if turned.mode in ("RGBA", "LA", "PA", "P"):
        from PIL import Image as Images

        layered = turned.convert("RGBA")
        white = Images.new("RGBA", layered.size, (255, 255, 255, 255))
        turned = Images.alpha_composite(white, layered)
    return np.ascontiguousarray(_in_srgb(turned.convert("RGB"), image), dtype=np.uint8)


def _in_srgb(pixels: Image, image: Image) -> Image:
    """The colours of a picture that brings a profile of its own, as most telephones' do."""
    from PIL import ImageCms

    profile = image.info.get("icc_profile")
    if not profile or image.mode not in ("RGB", "RGBA", "P", "PA"):
        return pixels
    try:
        own = ImageCms.ImageCmsProfile(BytesIO(profile))
        converted = ImageCms.profileToProfile(pixels, own, ImageCms.createProfile("sRGB"))
    except (ImageCms.PyCMSError, OSError):  # a profile that is damaged says nothing
        return pixels
    return pixels if converted is None else converted
