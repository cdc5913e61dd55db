"""A digital negative with nothing in it but what must be: for tests of raw pictures.

Adobe DNG 1.4 on TIFF 6.0: one strip of 16-bit values behind a red, green, green, blue mosaic.
"""

from __future__ import annotations

import struct
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

BYTE, ASCII, SHORT, LONG, RATIONAL, SRATIONAL = 1, 2, 3, 4, 5, 10
_SIZES = {BYTE: 1, ASCII: 1, SHORT: 2, LONG: 4, RATIONAL: 8, SRATIONAL: 8}
# Colours of the sensor taken as they are: the chart on the picture brings them to ours.
_IDENTITY = (1, 1, 0, 1, 0, 1, 0, 1, 1, 1, 0, 1, 0, 1, 0, 1, 1, 1)


def mosaic(light: NDArray[np.float64]) -> NDArray[np.uint16]:
    """What lies behind the mosaic, of linear light 0-1 (height, width, 3), even sides."""
    values = np.empty(light.shape[:2])
    values[0::2, 0::2] = light[0::2, 0::2, 0]
    values[0::2, 1::2] = light[0::2, 1::2, 1]
    values[1::2, 0::2] = light[1::2, 0::2, 1]
    values[1::2, 1::2] = light[1::2, 1::2, 2]
    return np.round(np.clip(values, 0, 1) * 65535).astype(np.uint16)


def write_negative(path: Path, light: NDArray[np.float64], turn: int = 1) -> None:
    """Write linear light as a DNG, with EXIF's orientation `turn`."""
    values = mosaic(light)
    high, wide = values.shape
    tags: list[tuple[int, int, tuple[int, ...] | bytes]] = [
        (254, LONG, (0,)),
        (256, LONG, (wide,)),
        (257, LONG, (high,)),
        (258, SHORT, (16,)),
        (259, SHORT, (1,)),
        (262, SHORT, (32803,)),
        (271, ASCII, b"Invented\0"),
        (272, ASCII, b"Pinhole\0"),
        (273, LONG, (0,)),
        (274, SHORT, (turn,)),
        (277, SHORT, (1,)),
        (278, LONG, (high,)),
        (279, LONG, (values.nbytes,)),
        (284, SHORT, (1,)),
        (33421, SHORT, (2, 2)),
        (33422, BYTE, b"\0\1\1\2"),
        (50706, BYTE, b"\1\4\0\0"),
        (50707, BYTE, b"\1\1\0\0"),
        (50708, ASCII, b"Invented Pinhole\0"),
        (50714, LONG, (0,)),
        (50717, LONG, (65535,)),
        (50721, SRATIONAL, _IDENTITY),
        (50728, RATIONAL, (1, 1, 1, 1, 1, 1)),
        (50778, SHORT, (21,)),
    ]
    entries, rest = [], b""
    start = 8 + 2 + 12 * len(tags) + 4
    packed = [(tag, kind, _packed(kind, value)) for tag, kind, value in tags]
    room = sum(len(data) + len(data) % 2 for _, _, data in packed if len(data) > 4)
    for tag, kind, data in packed:
        count = len(data) // _SIZES[kind]
        if tag == 273:
            data = struct.pack("<I", start + room)
        if len(data) > 4:
            place = struct.pack("<I", start + len(rest))
            rest += data + b"\0" * (len(data) % 2)
        else:
            place = data.ljust(4, b"\0")
        entries.append(struct.pack("<HHI", tag, kind, count) + place)
    directory = struct.pack("<H", len(entries)) + b"".join(entries) + struct.pack("<I", 0)
    path.write_bytes(struct.pack("<2sHI", b"II", 42, 8) + directory + rest + values.tobytes())


def _packed(kind: int, value: tuple[int, ...] | bytes) -> bytes:
    if isinstance(value, bytes):
        return value
    form = {SHORT: "H", LONG: "I", RATIONAL: "I", SRATIONAL: "i"}[kind]
    return struct.pack(f"<{len(value)}{form}", *value)
