"""A file of targets, solved together from one box."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.invented import tube
from tubewise.advice.recipes.batch import batch, is_batch, read_targets
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.wishes import Wishes
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf

TUBES = (
    tube("Titanium White", "PW6"),
    tube("Arylide Yellow", "PY74"),
    tube("Ultramarine", "PB29"),
    tube("Permanent Rose", "PV19 (rose)"),
)
SHELF = Shelf(TUBES)
PAINTS = [p for p in map(SHELF.tube, TUBES) if p is not None]
GOOD = 'name,target\nheath,"lab:60,20,-20"\nfield,munsell:5GY 6/6\n,#c8a050\n'


@pytest.mark.slow
def test_each_line_is_what_a_single_search_finds(tmp_path: Path) -> None:
    path = tmp_path / "targets.csv"
    path.write_text(GOOD)
    targets = read_targets(path, SHELF)
    told: list[tuple[int, int]] = []
    many = batch(targets, PAINTS, 3, 12, progress=lambda d, n: told.append((d, n)))
    assert [line.name for line in many.lines] == ["heath", "field", "#c8a050"]
    assert told == [(1, 3), (2, 3), (3, 3)]
    for aim, line in zip(targets, many.lines, strict=True):
        alone = recipe(aim, PAINTS, 3, 12).recipes[0]
        assert line.recipe.delta_e00 == pytest.approx(alone.delta_e00, abs=0.02)


def test_a_spectrum_is_no_list_of_targets(tmp_path: Path) -> None:
    (tmp_path / "spectrum.csv").write_text("nm,R\n400,0.1\n")
    (tmp_path / "targets.csv").write_text(GOOD)
    assert not is_batch(tmp_path / "spectrum.csv")
    assert is_batch(tmp_path / "targets.csv")
    assert not is_batch(tmp_path / "missing.csv")
    assert not is_batch(tmp_path / "picture.png")


def test_every_bad_row_is_told_at_once(tmp_path: Path) -> None:
    path = tmp_path / "targets.csv"
    path.write_text('target\n"lab:1,2"\n#123456\nmunsell:9Z 4/4\n')
    with pytest.raises(UserError) as told:
        read_targets(path, SHELF)
    assert "row 2" in str(told.value) and "row 4" in str(told.value)
    path.write_text("target\n\n")
    with pytest.raises(UserError):
        read_targets(path, SHELF)


def test_a_batch_needs_one_light_and_something_to_mix(tmp_path: Path) -> None:
    path = tmp_path / "targets.csv"
    path.write_text(GOOD)
    targets = read_targets(path, SHELF)
    with pytest.raises(UserError, match="one light"):
        batch(targets, PAINTS, wishes=Wishes(light="all"))
    with pytest.raises(UserError, match="at least one"):
        batch(targets, [])
