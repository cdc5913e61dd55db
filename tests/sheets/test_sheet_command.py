"""`tubewise sheet …` writes files, numbers pages, and refuses what it cannot print."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Run, run
from tests.sheets.conftest import page_count, shop, supply_list, text_of
from tubewise.sheets.files import wanted_format, write_pages
from tubewise.tubes.catalogue import write_boxes, write_catalogue
from tubewise.tubes.supply import write_supply_list
from tubewise.tubes.tube import Box

__all__ = ["run"]


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a catalogue, a list and boxes."""
    write_catalogue(tmp_path / "shop.csv", shop())
    write_supply_list(tmp_path / "list.csv", supply_list())
    write_boxes(tmp_path / "boxes.csv", [Box("1", (shop()[0],)), Box("2", (shop()[1],))])
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.slow
def test_each_sheet_is_written_where_it_is_asked_for(here: Path, run: Run) -> None:
    shop_ = ("--catalogue", "shop.csv")
    jobs = {
        "supply.pdf": ("supply", "list.csv", *shop_),
        "class.pdf": ("class", "list.csv", "--boxes", "boxes.csv", *shop_),
        "compare.pdf": ("compare", "PB29", "oakfen-fenland-acrylic-cadmium-red-60ml", *shop_),
        "recipe.pdf": ("recipe", "#804050", "--from", "shop.csv", "--medium", "acrylic"),
        "chart.pdf": ("chart", "PB29", "PY3", *shop_),
        "ladder.pdf": ("ladder", "PB29", "--white", "PW4", *shop_),
        "labels.pdf": ("labels", *shop_),
    }
    for out, words in jobs.items():
        ran = run("sheet", *words, "--out", out, "--paper", "letter")
        assert (ran.status, ran.err) == (0, ""), words
        assert ran.out == f"Written: {out}\n"
        assert page_count((here / out).read_bytes()) >= 1
    assert "(PW4)" in text_of((here / "ladder.pdf").read_bytes())


def test_the_ending_of_the_file_is_the_format_and_pages_are_numbered(here: Path, run: Run) -> None:
    ran = run("sheet", "class", "list.csv", "--boxes", "boxes.csv", "-c", "shop.csv", "-o", "r.svg")
    assert ran.status == 0
    assert sorted(p.name for p in here.glob("r*.svg")) == ["r-1.svg", "r-2.svg", "r-3.svg"]
    assert all(p.read_text("utf-8").startswith("<svg") for p in here.glob("r*.svg"))


def test_without_a_place_the_sheet_gets_its_own_name(here: Path, run: Run) -> None:
    assert run("sheet", "ladder", "PB29", "--format", "png").out == "Written: tint-ladder.png\n"
    assert (here / "tint-ladder.png").read_bytes().startswith(b"\x89PNG")


def test_chosen_tubes_only(here: Path, run: Run) -> None:
    assert run("sheet", "labels", "Cadmium Red", "-c", "shop.csv", "-o", "one.pdf").status == 0
    words = text_of((here / "one.pdf").read_bytes())
    assert "Cadmium Red" in words and "Quinacridone" not in words


@pytest.mark.parametrize(
    ("words", "message"),
    [
        (("compare", "PB29"), "2 to 4 tubes"),
        (("chart", "PB29"), "2 to 24 tubes"),
        (("ladder", "PB9999"), "PB9999"),
        (("ladder", "PB29", "--paper", "a5"), "the papers are a4 and letter"),
        (("ladder", "PB29", "--format", "gif"), "the formats are pdf, svg, png"),
        (("ladder", "PB29", "--out", "x.gif"), "the formats are pdf, svg, png"),
        (("ladder", "PB29", "--out", "x.png", "--format", "pdf"), "ends in .png"),
        (("labels",), "no tubes to label"),
        (("labels", "Nobody's Blue", "-c", "shop.csv"), "no tube has this id or name"),
        (("supply", "nowhere.csv"), "nowhere.csv"),
        (("class", "list.csv", "--boxes", "nowhere.csv"), "nowhere.csv"),
        (("recipe", "#804050", "--from", "shop.csv"), "which do not mix"),
        (("recipe", "lab:1", "--from", "shop.csv", "--medium", "acrylic"), "lab:L,a,b"),
    ],
)
def test_bad_input_ends_with_status_2_and_a_message(
    words: tuple[str, ...], message: str, here: Path, run: Run
) -> None:
    before = sorted(here.iterdir())
    ran = run("sheet", *words)
    assert ran.status == 2
    assert message in ran.err and ran.out == ""
    assert [p for p in sorted(here.iterdir()) if p not in before and p.suffix != ".sqlite3"] == []


def test_ten_pages_are_numbered_so_that_they_sort(tmp_path: Path) -> None:
    places = write_pages([b"x"] * 10, tmp_path / "deep" / "p.png")
    assert [p.name for p in places[::9]] == ["p-01.png", "p-10.png"]
    assert list(places) == sorted(places)


@pytest.mark.parametrize(
    ("out", "format", "wanted"),
    [
        (None, "", "pdf"),
        (Path("a.SVG"), "", "svg"),
        (Path("plain"), "", "pdf"),
        (Path("plain"), "png", "png"),
    ],
)
def test_the_format_follows_from_what_is_said(out: Path | None, format: str, wanted: str) -> None:
    assert wanted_format(out, format) == wanted


def test_a_purpose_nobody_knows_is_refused_by_every_sheet_that_takes_one(
    here: Path, run: Run
) -> None:
    jobs = [
        ("supply", "list.csv"),
        ("class", "list.csv", "--boxes", "boxes.csv"),
        ("recipe", "#804050", "--from", "shop.csv", "--medium", "acrylic"),
    ]
    for words in jobs:
        ran = run("sheet", *words, "--for", "fun")
        assert ran.status == 2 and "“fun” is no purpose we know" in ran.err
