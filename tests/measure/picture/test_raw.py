"""Raw pictures: the sensor's light, upright, without white balance."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tests.measure.picture.negative import write_negative
from tubewise.colour.srgb import linear_from_encoded
from tubewise.errors import UserError
from tubewise.measure.picture.raw import is_raw, open_raw


def light() -> np.ndarray:
    """A warm light, half as strong above."""
    found = np.empty((200, 300, 3))
    found[:] = 0.5, 0.25, 0.1
    found[:100] *= 0.5
    return found


def test_the_sensors_light_comes_back_as_it_was(tmp_path: Path) -> None:
    write_negative(tmp_path / "a.dng", light())
    seen = linear_from_encoded(open_raw(tmp_path / "a.dng") / 255)
    # Where the mosaic is filled in, an edge is a pixel or two wide.
    inner = np.r_[4:96, 104:196]
    assert np.abs(seen - light())[inner, 4:-4].max() < 1e-3


def test_a_camera_held_upright_gives_an_upright_picture(tmp_path: Path) -> None:
    write_negative(tmp_path / "a.dng", light(), turn=6)
    seen = open_raw(tmp_path / "a.dng")
    assert seen.shape == (300, 200, 3)
    assert seen[150, 5, 0] > seen[150, -5, 0]


@pytest.mark.parametrize("data", [b"", b"not a picture", b"II*\0" + bytes(400)])
def test_what_is_no_raw_picture_is_refused_in_a_sentence(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "a.cr2"
    path.write_bytes(data)
    with pytest.raises(UserError, match="raw picture"):
        open_raw(path)


def test_one_that_is_too_small_is_refused(tmp_path: Path) -> None:
    write_negative(tmp_path / "a.dng", light()[:40, :40])
    with pytest.raises(UserError, match="40 by 40"):
        open_raw(tmp_path / "a.dng")


@pytest.mark.parametrize(("name", "raw"), [("a.DNG", True), ("a.nef", True), ("a.jpg", False)])
def test_raw_pictures_are_known_by_their_names(name: str, raw: bool) -> None:
    assert is_raw(Path(name)) is raw
