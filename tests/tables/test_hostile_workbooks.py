"""Small workbooks that cost a server its processor are refused, whatever door they come by."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.tables import hostile_workbooks as hostile
from tubewise import limits
from tubewise.errors import UserError
from tubewise.tables.workbooks import workbook_grids
from tubewise.tables.workbooks_apart import workbook_grids_apart
from tubewise.tubes.catalogue import read_catalogue


def refused(data: bytes) -> str:
    assert len(data) < 300_000
    with pytest.raises(UserError) as error:
        workbook_grids("a.xlsx", data)
    return str(error.value)


def test_the_plain_workbook_that_the_hostile_ones_are_made_from_is_read() -> None:
    (grid,) = workbook_grids("a.xlsx", hostile.placed("A2"))
    assert [(row.number, row.cells) for row in grid.rows] == [(1, ("name",)), (2, ("Rose",))]


@pytest.mark.parametrize("number", ["999999999999", "1048577", "9" * 5000])
def test_a_row_numbered_beyond_any_spreadsheet(number: str) -> None:
    assert "numbered above 1,048,576" in refused(hostile.numbered(number))


def test_a_cell_placed_beyond_any_spreadsheet() -> None:
    assert "numbered above" in refused(hostile.placed("A999999999999"))
    assert "in column XFE" in refused(hostile.placed("XFE2"))
    assert "in column ZZZZZZZZ" in refused(hostile.placed("Z" * 4000 + "2"))


def test_the_last_row_of_a_spreadsheet_is_read() -> None:
    (grid,) = workbook_grids("a.xlsx", hostile.numbered("1048576"))
    assert [row.number for row in grid.rows] == [1, 1_048_576]


@pytest.mark.parametrize("text", [" ", "\u00a0", "'", ";", "=", "\t", "1"])
def test_a_very_long_run_in_a_cell(text: str) -> None:
    assert "at most 10,000 are read" in refused(hostile.long_cell(5_000_000, text)[:])


def test_many_rows_that_are_empty_but_for_their_far_end() -> None:
    assert "cells, most of them empty" in refused(hostile.far_cells(400))


def test_many_merged_ranges_and_shared_texts() -> None:
    assert "merged cells" in refused(hostile.merged(limits.MAX_MERGED + 1))
    assert "shared texts" in refused(hostile.shared(limits.MAX_SHARED_STRINGS + 1))


def test_elements_within_elements() -> None:
    deep = hostile.book(hostile.HEADER, "<a>" * 3000 + "</a>" * 3000)
    assert "elements within elements" in refused(deep)


def test_an_opendocument_that_repeats_without_end() -> None:
    cell, row = hostile.open_cell, hostile.open_row
    (grid,) = workbook_grids("a.ods", hostile.opendocument(row(cell()) + row("", "1000000")))
    assert [(r.number, r.cells) for r in grid.rows] == [(1, ("Rose",))]
    for rows, words in (
        (row(cell(), "999999999"), "numbered above 1,048,576"),
        (row(cell()) + row("", "999999999") + row(cell()), "numbered above 1,048,576"),
        (row(cell("999999999")), "more than 16,384 columns"),
        (row(cell("16384")) * 400, "More than 5,000,000 cells"),
        (row(cell(text='<text:s text:c="999999999"/>x')), "more than 10,000 blanks"),
        (row(cell(text="x" + " " * 5_000_000 + "x")), "at most 10,000 are read"),
    ):
        assert words in refused(hostile.opendocument(rows)), words


def test_what_is_read_apart_is_what_is_read_here() -> None:
    plain = hostile.opendocument(hostile.open_row(hostile.open_cell()))
    dirty = hostile.long_cell(9, "é '=")
    for data in (hostile.placed("C2"), hostile.numbered("7"), dirty, plain):
        assert workbook_grids_apart("a.xlsx", data) == workbook_grids("a.xlsx", data)


def test_a_workbook_that_takes_too_long_is_given_up(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "a.xlsx"
    path.write_bytes(hostile.placed("A2"))
    monkeypatch.setattr("tubewise.limits.WORKBOOK_SECONDS", 0.0)
    with pytest.raises(UserError, match="took longer than 0 seconds and was stopped; copy the"):
        read_catalogue(path)
