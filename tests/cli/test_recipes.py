"""Recipes and stand-ins asked for on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Run


@pytest.mark.slow
def test_few_parts_leave_room_for_few_paints(run: Run, files: Path) -> None:
    ran = run(
        "recipe", "lab:60,20,-20", "--from", str(files / "catalogue.csv"), "--max-parts", "2",
        "--json",
    )  # fmt: skip
    assert ran.status == 0, ran.err
    for one in json.loads(ran.out)["recipes"]:
        assert sum(p["parts"] for p in one["parts"]) <= 2


@pytest.mark.parametrize("target", ["x" * 300, "lab" * 2000])
def test_a_target_too_long_for_a_file_is_told(run: Run, files: Path, target: str) -> None:
    ran = run("recipe", target, "--from", str(files / "catalogue.csv"))
    assert ran.status == 2
    assert "Traceback" not in ran.err and "a fault of ours" not in ran.err


@pytest.mark.parametrize("cell", ["nan", "9" * 200_000, "0.2\n500,0.3"])
def test_a_spectrum_that_is_none_is_told(run: Run, files: Path, cell: str) -> None:
    rows = [f"{n},0.2" for n in range(400, 710, 10)]
    rows[10] = f"500,{cell}"
    (files / "spectrum.csv").write_text("nm,R\n" + "\n".join(rows))
    ran = run("recipe", str(files / "spectrum.csv"), "--from", str(files / "catalogue.csv"))
    assert ran.status == 2, ran.err[-500:]
    assert "Traceback" not in ran.err and "a fault of ours" not in ran.err


def test_standin_asks_for_the_medium_and_gives_the_currency(run: Run, files: Path) -> None:
    with (files / "catalogue.csv").open("a") as file:
        file.write("Oakfen,Fenland,artist,oil,Dioxazine Violet,PV23,40,9.50,GBP,1,\n")
    words = ("standin", "PV23", "--from", str(files / "catalogue.csv"))
    ran = run(*words)
    assert ran.status == 2
    assert "do not mix; say which medium is meant" in ran.err
    ran = run(*words, "--medium", "oil")
    assert ran.status == 0, ran.err
    assert "9.50 GBP" in ran.out and "EUR" not in ran.out


@pytest.mark.slow
def test_prices_and_assumptions_are_told(run: Run, files: Path) -> None:
    ran = run("recipe", "lab:60,20,-20", "--from", str(files / "catalogue.csv"), "--all")
    assert ran.status == 0, ran.err
    told = " ".join(ran.out.split())
    assert " EUR per 100 ml" in told and "cent" not in told
    assert "under other lights (assumed: the target has no spectrum): " in told
    ran = run("recipe", "PB29", "--from", str(files / "catalogue.csv"), "--light", "A", "--all")
    told = " ".join(ran.out.split())
    assert "assumed" not in told and "under A" in told


@pytest.mark.slow
def test_a_box_is_mixed_from_by_its_seat(run: Run, files: Path) -> None:
    words = ("recipe", "lab:40,20,-30", "--from", str(files / "boxes.csv"), "--max-paints", "2")
    ran = run(*words)
    assert ran.status == 2
    assert "the boxes of 2 seats" in ran.err and "--seat" in ran.err
    ran = run(*words, "--seat", "3")
    assert ran.status == 2 and "there are 1, 2" in ran.err
    catalogue = ("--catalogue", str(files / "catalogue.csv"))
    ran = run(*words, "--seat", "1", *catalogue, "--json")
    assert ran.status == 0, ran.err
    answer = json.loads(ran.out)
    assert {p["title"] for r in answer["recipes"] for p in r["parts"]} <= {
        "Oakfen Fenland Titanium White",
        "Oakfen Fenland Permanent Rose",
        "Oakfen Fenland Ultramarine",
    }


@pytest.mark.slow
def test_the_first_recipe_is_short_and_says_amounts(run: Run, files: Path) -> None:
    ran = run(
        "recipe", "lab:60,20,-20", "--from", str(files / "catalogue.csv"), "--make", "30ml",
        "--for-seats", "12",
    )  # fmt: skip
    assert ran.status == 0, ran.err
    first = ran.out[: ran.out.index("2. ")]
    assert len(first.splitlines()) <= 20
    assert "360 ml (12 seats, 30 ml each): " in " ".join(first.split())
    assert "under other lights" not in ran.out and "--all" in ran.out


def test_an_amount_that_is_none_is_told(run: Run, files: Path) -> None:
    ran = run("recipe", "PB29", "--from", str(files / "catalogue.csv"), "--make", "some")
    assert ran.status == 2
    assert "“some”" in ran.err and "such as 30 ml" in ran.err
