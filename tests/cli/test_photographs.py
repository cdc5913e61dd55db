"""`label --photo`: what it says where nothing can be read."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tubewise.pictures import extra


def test_without_the_extra_the_command_says_what_to_install(
    run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(extra, "has_photos", lambda: False)
    ran = run("label", "--photo", str(tmp_path / "tube.jpg"))
    assert ran.status == 2 and "pip install 'tubewise[photos]'" in ran.err


def test_neither_text_nor_picture(run: Run) -> None:
    ran = run("label")
    assert ran.status == 2 and "--photo" in ran.err


def test_a_file_that_is_no_picture(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "tube.jpg"
    path.write_text("not a picture, but long enough to be looked at")
    ran = run("label", "--photo", str(path))
    assert ran.status == 2 and "tube.jpg: This is no picture" in ran.err
