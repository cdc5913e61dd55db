"""sRGB (IEC 61966-2-1) and its hexadecimal notation."""

from __future__ import annotations

import re
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_relative, relative_from_lab
from tubewise.errors import UserError

_XYZ_FROM_RGB: Final = np.array(
    [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
)
# The standard prints the inverse to four places only; inverting its matrix closes round trips.
_RGB_FROM_XYZ: Final = np.linalg.inv(_XYZ_FROM_RGB)
# CIELAB is relative to its white, so sRGB's own rounding of D65 makes white exactly #ffffff.
_WHITE: Final = _XYZ_FROM_RGB.sum(axis=1)

_HEX: Final = re.compile(r"#?([0-9a-fA-F]{3}|[0-9a-fA-F]{6})")


def encoded_from_linear(linear: ArrayLike) -> Floats:
    """sRGB values 0-1 as encoded, from linear light 0-1, any shape.

    Values out of range stay out of range: nothing is clipped. Source: IEC 61966-2-1.
    """
    linear = np.asarray(linear, dtype=np.float64)
    curve = 1.055 * np.maximum(linear, 0.0031308) ** (1.0 / 2.4) - 0.055
    return np.where(linear <= 0.0031308, 12.92 * linear, curve)


def linear_from_encoded(encoded: ArrayLike) -> Floats:
    """Linear light 0-1 from encoded sRGB values 0-1, any shape. Source: IEC 61966-2-1."""
    encoded = np.asarray(encoded, dtype=np.float64)
    curve = ((np.maximum(encoded, 0.04045) + 0.055) / 1.055) ** 2.4
    return np.where(encoded <= 0.04045, encoded / 12.92, curve)


def linear_from_lab(lab: ArrayLike) -> Floats:
    """Linear sRGB of CIELAB D65/2, shapes (..., 3); outside 0-1 where a screen cannot show it."""
    linear: Floats = (relative_from_lab(lab) * _WHITE) @ _RGB_FROM_XYZ.T
    return linear


def lab_from_linear(linear: ArrayLike) -> Floats:
    """CIELAB D65/2 of linear sRGB, shapes (..., 3)."""
    return lab_from_relative(np.asarray(linear, dtype=np.float64) @ _XYZ_FROM_RGB.T / _WHITE)


def rgb8_from_lab(lab: ArrayLike) -> NDArray[np.uint8]:
    """Screen values 0-255 of CIELAB D65/2, shapes (..., 3), gamut-mapped at constant hue.

    Colours outside sRGB keep hue and lightness and lose only the chroma a screen cannot show.
    """
    from tubewise.colour.gamut import into_srgb

    linear = np.clip(linear_from_lab(into_srgb(lab)), 0.0, 1.0)
    return np.rint(255.0 * encoded_from_linear(linear)).astype(np.uint8)


def hex_from_lab(lab: ArrayLike) -> str:
    """`#rrggbb` of one CIELAB colour D65/2, shape (3,), gamut-mapped at constant hue."""
    return hexes_from_lab(np.asarray(lab, dtype=np.float64).reshape(1, 3))[0]


def hexes_from_lab(labs: ArrayLike) -> list[str]:
    """`#rrggbb` of many CIELAB colours D65/2, shape (n, 3), gamut-mapped at constant hue."""
    return [f"#{r:02x}{g:02x}{b:02x}" for r, g, b in rgb8_from_lab(labs).tolist()]


def lab_from_hex(text: str) -> Floats:
    """CIELAB D65/2, shape (3,), of `#rrggbb` or `#rgb`; the `#` may be missing.

    Raises `UserError` for anything else. Source: IEC 61966-2-1.
    """
    match = _HEX.fullmatch(text.strip())
    if match is None:
        raise UserError(
            f"{text!r} is not a screen colour. Write # and six digits of 0-9 and a-f, "
            "such as #b03a2e."
        )
    digits = match[1] if len(match[1]) == 6 else "".join(2 * digit for digit in match[1])
    rgb8 = np.array([int(digits[i : i + 2], 16) for i in (0, 2, 4)])
    return lab_from_linear(linear_from_encoded(rgb8 / 255.0))
