"""Photographs on the command line: what is read, and what is said where nothing can be."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tests.cli.conftest import Run
from tools.photographs.invented_labels import label
from tools.photographs.swatch_scenes import scene
from tools.photographs.tube_pictures import plain_photograph
from tubewise.colour.difference import delta_e_2000
from tubewise.pictures import extra
from tubewise.tubes.catalogue import read_boxes, read_catalogue


def test_without_the_extra_the_command_says_what_to_install(
    run: Run, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(extra, "has_photos", lambda: False)
    ran = run("label", "--photo", str(tmp_path / "tube.jpg"))
    assert ran.status == 2 and "pip install 'tubewise[photos]'" in ran.err


def test_neither_text_nor_picture(run: Run) -> None:
    ran = run("label")
    assert ran.status == 2 and "--photo" in ran.err


@pytest.mark.slow
def test_a_file_that_is_no_picture(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "tube.jpg"
    path.write_text("not a picture, but long enough to be looked at")
    ran = run("label", "--photo", str(path))
    assert ran.status == 2 and "tube.jpg: This is no picture" in ran.err


@pytest.mark.slow
def test_a_bad_picture_of_a_box_is_listed_and_the_rest_goes_on(run: Run, tmp_path: Path) -> None:
    made = label(11, 3, 2.0)
    (tmp_path / "a.jpg").write_text("not a picture, but long enough to be looked at")
    (tmp_path / "b.jpg").write_bytes(plain_photograph(made))
    out = tmp_path / "boxes.csv"
    ran = run("box", "--photos", str(tmp_path), "--seat", "4", "--out", str(out), "--no-ask")
    assert ran.status == 0, ran.err
    assert "! a.jpg: This is no picture" in ran.out
    [box] = read_boxes(out)
    assert [set(made.codes) <= set(tube.pigments) for tube in box.tubes] == [True]


@pytest.mark.slow
def test_a_swatch_is_asked_for_in_ways_that_go_together(run: Run, tmp_path: Path) -> None:
    place = str(tmp_path / "daubs.jpg")
    for words, said in (
        (("--card", "rainbow"), "chart, white-grey, paints, none"),
        (("--white", "3,4"), "--card white-grey"),
        (("--daub", "here"), "400,300"),
        (("--card", "paints", "--known", "4,5"), "PW6=400,300"),
        ((), "can't be read"),
    ):
        ran = run("swatch", place, *words)
        assert ran.status == 2 and said in ran.err, ran.err


@pytest.mark.slow
def test_daubs_are_read_printed_and_written_as_tubes(run: Run, tmp_path: Path) -> None:
    made = scene(6)
    place, out = tmp_path / "daubs.jpg", tmp_path / "daubs.csv"
    place.write_bytes(made.data)
    x, y = made.daubs[1]
    ran = run("swatch", str(place), "--daub", f"rose={x:.0f},{y:.0f}", "--out", str(out))
    assert ran.status == 0, ran.err
    assert "rose" in ran.out and "lab:" in ran.out and "BabelColor Average" in ran.out
    [tube] = read_catalogue(out)
    assert tube.name == "rose" and tube.swatch_geometry == "excluded"
    assert tube.swatch_lab is not None
    assert float(delta_e_2000(np.array(tube.swatch_lab), made.lab[1])) < 4
