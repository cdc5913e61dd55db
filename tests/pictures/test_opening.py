"""Pictures are opened upright and without their location, or refused in one clear sentence."""

from __future__ import annotations

import struct
import zlib
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from tubewise.errors import UserError
from tubewise.limits import MOST_PICTURE_BYTES
from tubewise.pictures.opening import open_picture
from tubewise.pictures.saving import jpeg

ORIENTATION = 0x0112
GPS = 0x8825


def half_red(wide: int = 120, high: int = 80) -> Image.Image:
    """A picture whose left half is red and whose right half is white."""
    pixels = np.full((high, wide, 3), 255, np.uint8)
    pixels[:, : wide // 2] = (200, 0, 0)
    return Image.fromarray(pixels)


def saved(image: Image.Image, kind: str, **more: object) -> bytes:
    """The picture as the bytes of a file."""
    file = BytesIO()
    image.save(file, kind, **more)
    return file.getvalue()


def empty_png(wide: int, high: int) -> bytes:
    """A PNG that claims a size and holds almost nothing."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        check = struct.pack(">I", zlib.crc32(kind + data))
        return struct.pack(">I", len(data)) + kind + data + check

    header = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    body = chunk(b"IHDR", header) + chunk(b"IDAT", zlib.compress(b"")) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + body


def test_a_turned_photograph_stands_upright() -> None:
    image = half_red()
    exif = image.getexif()
    exif[ORIENTATION] = 6  # the camera was held upright: turn by a quarter to the right
    pixels = open_picture(saved(image, "JPEG", exif=exif))
    assert pixels.shape == (120, 80, 3)
    assert pixels[10, 40, 1] < 60 and pixels[110, 40, 1] > 200


def test_the_place_is_left_behind() -> None:
    image = half_red()
    exif = image.getexif()
    exif.get_ifd(GPS)[1] = "N"
    exif[0x010E] = "my kitchen"
    data = saved(image, "JPEG", exif=exif)
    assert b"my kitchen" in data
    copy = jpeg(open_picture(data))
    assert b"my kitchen" not in copy and not Image.open(BytesIO(copy)).getexif()


def test_a_telephones_heic_is_read() -> None:
    heif = pytest.importorskip("pillow_heif")
    heif.register_heif_opener()
    pixels = open_picture(saved(half_red(), "HEIF"))
    assert pixels.shape == (80, 120, 3) and pixels[40, 20, 0] > 150


def test_a_transparent_picture_lies_on_white() -> None:
    pixels = open_picture(saved(Image.new("RGBA", (90, 90), (0, 0, 0, 0)), "PNG"))
    assert int(pixels.min()) == 255


@pytest.mark.parametrize(
    ("data", "sentence"),
    [
        (b"", "empty"),
        (b"seat,name\n1,Rose\n" * 20, "no picture"),
        (saved(half_red(), "GIF"), "no picture"),
        (saved(half_red(), "JPEG")[:400], "damaged|no picture"),
        (saved(half_red(30, 30), "PNG"), "only 30 by 30 pixels"),
        (saved(Image.new("RGB", (100, 100)), "PNG"), "black"),
        (empty_png(20_000, 10_000), "million pixels"),
        (empty_png(200_000, 200_000), "million pixels"),
        (
            saved(half_red(), "WEBP", save_all=True, append_images=[half_red(120, 80).rotate(90)]),
            "moves",
        ),
    ],
)
def test_what_cannot_be_read_is_refused_in_a_sentence(data: bytes, sentence: str) -> None:
    with pytest.raises(UserError, match=sentence) as refused:
        open_picture(data, where="mine.jpg")
    assert refused.value.where == "mine.jpg" and "\n" not in refused.value.message


def test_a_file_too_large_is_never_read(tmp_path: Path) -> None:
    path = tmp_path / "large.jpg"
    with path.open("wb") as file:
        file.truncate(MOST_PICTURE_BYTES + 1)
    with pytest.raises(UserError, match="larger than 40 MB"):
        open_picture(path)
    with pytest.raises(UserError, match="can't be read"):
        open_picture(tmp_path / "absent.jpg")


def test_a_scan_of_sixteen_bits_keeps_its_greys() -> None:
    grey = Image.fromarray(np.full((90, 90), 120 * 256, np.uint16))
    assert open_picture(saved(grey, "PNG"))[40, 40].tolist() == [120, 120, 120]


def wide_profile() -> bytes:
    """An ICC profile of primaries wider than sRGB's (SMPTE EG 432-1 at D50), gamma 2.2."""

    def fixed(*values: float) -> bytes:
        return b"".join(struct.pack(">i", round(value * 65536)) for value in values)

    curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(2.2 * 256)) + b"\0\0"
    tags = {
        b"rXYZ": b"XYZ \0\0\0\0" + fixed(0.51512, 0.2412, -0.00105),
        b"gXYZ": b"XYZ \0\0\0\0" + fixed(0.29198, 0.69225, 0.04189),
        b"bXYZ": b"XYZ \0\0\0\0" + fixed(0.1571, 0.06657, 0.78407),
        b"wtpt": b"XYZ \0\0\0\0" + fixed(0.9642, 1.0, 0.8249),
        **dict.fromkeys((b"rTRC", b"gTRC", b"bTRC"), curve),
    }
    place, table, body = 132 + 12 * len(tags), b"", b""
    for name, data in tags.items():
        table += name + struct.pack(">II", place + len(body), len(data))
        body += data
    head = struct.pack(">I", place + len(body)) + b"\0\0\0\0" + struct.pack(">I", 0x02400000)
    head += b"mntrRGB XYZ " + b"\0" * 12 + b"acsp" + b"\0" * 28 + fixed(0.9642, 1.0, 0.8249)
    return head.ljust(128, b"\0") + struct.pack(">I", len(tags)) + table + body


def test_a_picture_in_wider_colours_is_brought_to_srgb() -> None:
    red = Image.new("RGB", (90, 90), (200, 60, 50))
    seen = open_picture(saved(red, "PNG", icc_profile=wide_profile()))[40, 40]
    assert seen == pytest.approx([219, 37, 34], abs=3)
    assert open_picture(saved(red, "PNG", icc_profile=b"nonsense"))[40, 40, 0] == 200
