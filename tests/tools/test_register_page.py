"""The page of pigments: every colour of the register is on it, drawn from its own optics."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest

from tools.register_page import film_hexes, main, shortened, write_page
from tubewise.pigments.models import optics
from tubewise.pigments.register import load


@pytest.mark.slow
def test_every_colour_is_on_the_page_and_in_a_picture(tmp_path: Path) -> None:
    page, *pictures = write_page(tmp_path)
    text = page.read_text(encoding="utf-8")
    drawn = ""
    for picture in pictures:
        ET.parse(picture)  # well formed
        assert f"pigments/{picture.name}" in text
        drawn += picture.read_text(encoding="utf-8")
    for ref in load().refs:
        assert f"| {ref} |" in text
        assert f">{ref}</text>" in drawn


def test_a_film_thins_from_masstone_to_its_ground() -> None:
    over_white, over_black = (film_hexes(optics("PG17"), ground) for ground in (0.8, 0.01))
    assert all(re.fullmatch("#[0-9a-f]{6}", colour) for colour in over_white)
    # An opaque pigment at full thickness is the same over both; scraped thin it is not.
    near = [abs(int(a, 16) - int(b, 16)) for a, b in zip_pairs(over_white[0], over_black[0])]
    far = [abs(int(a, 16) - int(b, 16)) for a, b in zip_pairs(over_white[-1], over_black[-1])]
    assert max(near) <= 3 and min(far) > 60


def zip_pairs(one: str, other: str) -> list[tuple[str, str]]:
    return [(one[i : i + 2], other[i : i + 2]) for i in (1, 3, 5)]


def test_long_names_are_cut_to_fit() -> None:
    assert shortened("cobalt blue") == "cobalt blue"
    assert len(shortened("x" * 80)) == 32


def test_a_folder_that_cannot_be_written_is_a_clear_error(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "docs").write_text("a file", encoding="utf-8")
    assert main([str(tmp_path / "docs")]) == 2
    assert "cannot write the page" in capsys.readouterr().err


@pytest.mark.slow
def test_the_command_says_what_it_wrote(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main([str(tmp_path)]) == 0
    assert "files written" in capsys.readouterr().out
