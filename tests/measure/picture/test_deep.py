"""Pictures of 16 bits keep their finer light, upright, or are refused in a sentence."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest
from PIL import Image

from tubewise.colour.srgb import linear_from_encoded
from tubewise.errors import UserError
from tubewise.measure.picture.deep import open_deep, to_look_at


def ramp() -> np.ndarray:
    """Red grows to the right by less than a level of 8 bits; green is 0.5 and blue 0.25."""
    levels = np.zeros((70, 90, 3), np.uint16)
    levels[..., 0] = 3000 + np.arange(90)
    levels[..., 1], levels[..., 2] = 32768, 16384
    return levels


@pytest.mark.parametrize("kind", [".png", ".tiff"])
def test_linear_light_comes_back_finer_than_eight_bits(tmp_path: Path, kind: str) -> None:
    path = tmp_path / f"ramp{kind}"
    cv2.imwrite(str(path), ramp()[..., ::-1])
    light = linear_from_encoded(open_deep(path, linear=True) / 255) * 65535
    assert np.abs(light - ramp()).max() < 1.0
    plain = open_deep(path, linear=False)
    assert np.abs(plain / 255 * 65535 - ramp()).max() < 1.0


def test_a_turned_picture_stands_upright(tmp_path: Path) -> None:
    turned = tmp_path / "turned.png"
    cv2.imwrite(str(turned), ramp()[..., ::-1])
    levels = open_deep(turned, linear=False)
    small = Image.fromarray(np.zeros((70, 90, 3), np.uint8))
    exif = small.getexif()
    for orientation in range(1, 9):
        exif[0x0112] = orientation
        grey = np.round(levels).astype(np.uint8)
        grey[:20, :30] = 255
        marked = Image.fromarray(grey)
        marked.save(turned, exif=exif)
        from tubewise.measure.picture.deep import _turn, _upright
        from tubewise.pictures.opening import open_picture

        assert _turn(turned) == orientation
        assert np.array_equal(_upright(grey, orientation), open_picture(turned))


def test_eight_bits_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "plain.png"
    cv2.imwrite(str(path), (ramp() >> 8).astype(np.uint8))
    with pytest.raises(UserError, match="16 bits"):
        open_deep(path, linear=True)


def test_dark_linear_light_is_brightened_to_be_looked_at() -> None:
    levels = np.full((60, 60, 3), 20, np.float32)
    levels[:30] = 4
    seen = to_look_at(levels)
    assert seen[50, 5].min() > 220 > 150 > seen[5, 5].max()
