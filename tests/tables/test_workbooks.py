from __future__ import annotations

import datetime
from pathlib import Path

import pytest

from tests.tubes.files_for_tests import problems, workbook
from tubewise.errors import UserError
from tubewise.tables.workbooks import workbook_grids
from tubewise.tubes.catalogue import (
    read_catalogue,
)


def test_a_workbook_with_numbers_as_text_blank_rows_and_a_title(tmp_path: Path) -> None:
    path = workbook(
        tmp_path,
        [
            ["Our paints"],
            [],
            ["Maker", "Name", "Label", "Size_ml", "Price", "Stock", "Shelf"],
            ["Ostrel", "Rose", "PV19", "37", "4,20", "3", 12],
            [],
            ["Ostrel", "Blue", "PB29", 37, 4.2, 3, None],
        ],
    )
    rose, blue = read_catalogue(path)
    assert (rose.size_ml, rose.price, rose.stock) == (blue.size_ml, blue.price, blue.stock)
    assert rose.extra == {"Shelf": "12"}


def test_a_code_that_a_spreadsheet_turned_into_a_date(tmp_path: Path) -> None:
    path = workbook(tmp_path, [["name", "label"], ["Rose", datetime.datetime(2026, 3, 1)]])
    (problem,) = problems(path)
    assert problem.startswith("sheet Sheet, row 2, column label: was turned into the date")


def test_a_formula_counts_as_its_saved_value_and_never_runs(tmp_path: Path) -> None:
    path = workbook(tmp_path, [["name", "price"], ["Rose", "=2*2"], ["Blue", 3]])
    (problem,) = problems(path)
    assert "formula without a saved value" in problem
    # A spreadsheet saves the value beside the formula, as is done here by hand.
    import zipfile

    saved = tmp_path / "saved.xlsx"
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(saved, "w") as new:
        for part in old.namelist():
            data = old.read(part)
            if part == "xl/worksheets/sheet1.xml":
                assert b"<f>2*2</f><v />" in data or b"<f>2*2</f><v/>" in data
                data = data.replace(b"<f>2*2</f><v />", b"<f>2*2</f><v>7</v>")
                data = data.replace(b"<f>2*2</f><v/>", b"<f>2*2</f><v>7</v>")
            new.writestr(part, data)
    assert [tube.price for tube in read_catalogue(saved)] == [7.0, 3.0]


def test_a_workbook_that_unpacks_to_too_much(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = workbook(tmp_path, [["name"], ["Rose"]])
    monkeypatch.setattr("tubewise.limits.MAX_UNPACKED_BYTES", 100)
    with pytest.raises(UserError, match="unpacks to"):
        workbook_grids(path.name, path.read_bytes())


def test_a_workbook_of_endless_empty_cells(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = workbook(tmp_path, [["name"], *[[None] * 90 + ["x"] for _ in range(9)]])
    monkeypatch.setattr("tubewise.limits.MAX_CELLS", 500)
    with pytest.raises(UserError, match="500 cells"):
        workbook_grids(path.name, path.read_bytes())


def test_archives_that_are_no_workbook(tmp_path: Path) -> None:
    import zipfile

    for names, words in (
        (["letter.txt"], "no XLSX"),
        (["mimetype", "content.xml"], "damaged"),
        (["[Content_Types].xml", "xl/workbook.xml"], "damaged"),
    ):
        path = tmp_path / "a.xlsx"
        with zipfile.ZipFile(path, "w") as archive:
            for name in names:
                archive.writestr(name, "no")
        with pytest.raises(UserError, match=words):
            read_catalogue(path)


def test_xml_entities_in_a_workbook_are_not_expanded(tmp_path: Path) -> None:
    import zipfile

    path = workbook(tmp_path, [["name"], ["Rose"]])
    bomb = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(path) as old, zipfile.ZipFile(bomb, "w") as new:
        for part in old.namelist():
            data = old.read(part)
            if part == "xl/worksheets/sheet1.xml":
                head = b'<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "aaaa">]>'
                data = head + data[data.index(b"<worksheet") :].replace(b"<v>0</v>", b"<v>&a;</v>")
            new.writestr(part, data)
    with pytest.raises(UserError, match="damaged"):
        read_catalogue(bomb)
