"""How much of a class check is printed."""

from __future__ import annotations

from pathlib import Path

from tests.cli.conftest import Run
from tests.cli.test_brief import check


def test_a_seat_is_explained_in_its_troubles_only(run: Run, files: Path) -> None:
    ran = run(*check(files), "--seat", "2")
    assert "Seat 2" in ran.out and "Seat 1" not in ran.out
    assert ran.out.count("→") < run(*check(files), "--all").out.count("→")


def test_everything_has_each_seat_and_the_texts_of_the_cautions(run: Run, files: Path) -> None:
    ran = run(*check(files), "--all")
    assert "Seat 1" in ran.out and "Seat 2" in ran.out and "For the teacher" in ran.out


def test_a_seat_nobody_has_is_refused_with_those_there_are(run: Run, files: Path) -> None:
    ran = run(*check(files), "--seat", "77")
    assert ran.status == 2
    assert "no seat 77" in ran.err and "the seats are 1, 2" in ran.err
