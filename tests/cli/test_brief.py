"""The class check on one page."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Run
from tubewise.demo.workshop import folder


def check(files: Path) -> tuple[str, ...]:
    """The check of a small workshop."""
    boxes, catalogue = str(files / "boxes.csv"), str(files / "catalogue.csv")
    return ("check", str(files / "list.csv"), "--boxes", boxes, "--catalogue", catalogue)


DEMO = (
    str(folder() / "supply.csv"),
    "--boxes",
    str(folder() / "boxes.csv"),
    "--catalogue",
    str(folder() / "catalogue.csv"),
)


@pytest.fixture
def page(run: Run, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    monkeypatch.setenv("COLUMNS", "80")
    ran = run("check", *DEMO)
    assert ran.status == 1
    return ran.out.rstrip().split("\n")


@pytest.mark.slow
def test_twelve_seats_fit_a_page_without_numbers_of_the_laboratory(page: list[str]) -> None:
    assert len(page) <= 60
    assert all(len(line) <= 80 for line in page)
    assert not any("CIEDE2000" in line for line in page)


@pytest.mark.slow
def test_the_grid_has_a_column_for_each_seat_and_a_row_for_each_paint_and_mix(
    page: list[str],
) -> None:
    rows = {line[:25].strip(): line[25:].split() for line in page[2:22]}
    assert rows["Titanium white"] == ["✓"] * 7 + ["–"] + ["✓"] * 4
    assert rows["Permanent rose"][3] == "✗"
    assert rows["Ready?"][7] == "✗"
    assert rows["Harebells"][0] == "✓"


def test_letters_shopping_and_cautions_are_there(run: Run, files: Path) -> None:
    ran = run(*check(files))
    assert "To write to each seat" in ran.out
    assert "To buy" in ran.out
    assert "Modelled unless measured" in ran.out
