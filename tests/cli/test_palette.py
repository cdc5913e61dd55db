"""Palettes asked for on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tubewise.errors import UserError


@pytest.mark.slow
def test_the_widest_three_of_a_shop(run: Run, files: Path) -> None:
    words = ("palette", "range", "--from", str(files / "catalogue.csv"), "--count", "3")
    ran = run(*words, "--json")
    assert ran.status == 0, ran.err
    answer = json.loads(ran.out)
    assert len(answer["tubes"]) == 3
    assert answer["proved"] is True
    told = run(*words).out
    assert "every choice was tried" in told
    assert answer["tubes"][0]["tube"]["title"] in " ".join(told.split())


@pytest.mark.slow
def test_what_a_box_reaches(run: Run, files: Path) -> None:
    ran = run("palette", "range", "--from", str(files / "catalogue.csv"), "--count", "0")
    assert ran.status == 0, ran.err
    assert "cubic units of CIELAB" in " ".join(ran.out.split())


@pytest.mark.slow
def test_next_without_and_versus(run: Run, files: Path) -> None:
    lines = (files / "catalogue.csv").read_text(encoding="utf-8").splitlines()
    (files / "box.csv").write_text("\n".join([lines[0], *lines[1:3], lines[5]]), encoding="utf-8")
    box, shop, aims = (str(files / n) for n in ("box.csv", "catalogue.csv", "list.csv"))
    ran = run("palette", "next", box, "--shop", shop, "--for", aims, "--json")
    assert ran.status == 0, ran.err
    assert json.loads(ran.out)["singles"][0]["reached"] >= 1
    ran = run("palette", "without", "PB29", "--from", box, "--for", aims)
    assert ran.status == 0, ran.err
    assert "out of reach: " in " ".join(ran.out.split())
    ran = run("palette", "versus", box, shop)
    assert ran.status == 0, ran.err
    assert "the second reaches" in " ".join(ran.out.split())


@pytest.mark.slow
def test_somebodys_box_is_asked_for_by_seat(run: Run, files: Path) -> None:
    shop, boxes = (str(files / name) for name in ("catalogue.csv", "boxes.csv"))
    ran = run("palette", "next", boxes, "--seat", "1", "--shop", shop, "--json")
    assert ran.status == 0, ran.err
    assert json.loads(ran.out)["singles"]
    ran = run(
        "palette", "versus", boxes, boxes, "--seat", "1", "--seat-b", "2", "--catalogue", shop
    )
    assert ran.status == 0, ran.err


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("range", "--from", "BOXES", "--count", "0"), "say whose with --seat"),
        (("without", "PB29", "--from", "BOXES", "--seat", "40"), "there is no seat “40”"),
        (("range", "--from", "SHOP", "--how", "dry"), "alone, with white or with water"),
        (("range", "--from", "SHOP", "--must", "PZ999"), "PZ999"),
        (("without", "PO62", "--from", "SHOP"), "PO62"),
        (("without", "PB29", "--from", "SHOP", "--for", "BOXES"), "neither a list of targets"),
    ],
)
def test_bad_questions_are_told(run: Run, files: Path, words: tuple[str, ...], said: str) -> None:
    places = {"SHOP": str(files / "catalogue.csv"), "BOXES": str(files / "boxes.csv")}
    ran = run("palette", *(places.get(word, word) for word in words))
    assert ran.status == 2
    assert said in ran.err
    assert "Traceback" not in ran.err and "a fault of ours" not in ran.err


@pytest.mark.slow
def test_a_lessons_list_is_written_anew_and_checked(run: Run, files: Path) -> None:
    shop, aims, new = (str(files / name) for name in ("catalogue.csv", "list.csv", "new.csv"))
    ran = run("palette", "lesson", aims, "--from", shop, "--out", new, "--within", "3")
    assert ran.status == 0, ran.err
    assert "proved that fewer will not do" in " ".join(ran.out.split())
    ran = run("check", new, "--boxes", str(files / "boxes.csv"), "--catalogue", shop)
    assert ran.status == 1, ran.err
    assert "not ready 2" in ran.out


@pytest.mark.parametrize(
    "words",
    [
        ("palette", "range", "--from", "SHOP"),
        ("palette", "next", "SHOP", "--shop", "SHOP"),
        ("palette", "without", "PB29", "--from", "SHOP"),
        ("palette", "versus", "SHOP", "SHOP"),
        ("palette", "lesson", "LIST", "--from", "SHOP"),
        ("palette", "picture", "WALL", "--from", "SHOP"),
        ("sheet", "palette", "--from", "SHOP"),
    ],
)
def test_the_search_is_made_ready_with_a_line_before_any_choosing(
    run: Run, files: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    from PIL import Image

    def compiling() -> None:
        raise UserError("compiling is said here")

    monkeypatch.setattr("tubewise.cli.show.compile_search", compiling)
    Image.new("RGB", (120, 90), "#b0a0c0").save(files / "wall.png")
    places = {"SHOP": "catalogue.csv", "LIST": "list.csv", "WALL": "wall.png"}
    ran = run(*(str(files / places[word]) if word in places else word for word in words))
    assert "compiling is said here" in ran.err


@pytest.mark.slow
def test_a_picture_before_and_after(run: Run, files: Path) -> None:
    from PIL import Image

    Image.new("RGB", (120, 90), "#b0a0c0").save(files / "wall.png")
    ran = run(
        "palette", "picture", str(files / "wall.png"), "--from", str(files / "catalogue.csv"),
        "--colours", "2", "--out", str(files / "both.jpg"),
    )  # fmt: skip
    assert ran.status == 0, ran.err
    assert "100% of the picture within CIEDE2000 5" in " ".join(ran.out.split())
    with Image.open(files / "both.jpg") as both:
        assert both.size == (252, 90)
