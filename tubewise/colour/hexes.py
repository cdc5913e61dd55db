"""Colours as a screen takes them, and their hexadecimal notation."""

from __future__ import annotations

import re
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tubewise.colour.arrays import Floats
from tubewise.colour.gamut import into_srgb
from tubewise.colour.srgb import (
    encoded_from_linear,
    lab_from_linear,
    linear_from_encoded,
    linear_from_lab,
)
from tubewise.errors import UserError

_HEX: Final = re.compile(r"#?([0-9a-fA-F]{3}|[0-9a-fA-F]{6})")


def rgb8_from_lab(lab: ArrayLike) -> NDArray[np.uint8]:
    """Screen values 0-255 of CIELAB D65/2, shapes (..., 3), gamut-mapped at constant hue.

    Colours outside sRGB keep hue and lightness and lose only the chroma a screen cannot show.
    """
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
