from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import openpyxl
import pytest

from tests.tubes.files_for_tests import HEADER, ROSE, ROW, problems, written
from tubewise.errors import UserError
from tubewise.tubes.catalogue import (
    read_boxes,
    read_catalogue,
    write_boxes,
    write_catalogue,
)
from tubewise.tubes.completed import Products, complete
from tubewise.tubes.exports import read_stock
from tubewise.tubes.tube import Box, Tube


def test_a_plain_catalogue(tmp_path: Path) -> None:
    assert read_catalogue(written(tmp_path, HEADER + ROW)) == [ROSE]
    assert ROSE.id == "ostrel-fen-acrylic-rose-37ml"


@pytest.mark.parametrize(
    "encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"]
)
@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_encodings_and_delimiters(tmp_path: Path, encoding: str, delimiter: str) -> None:
    rows = [["maker", "name", "label", "price"], ["Grünhag", "Écarlate", "PR112", "4.20 €"]]
    text = "\r\n".join(delimiter.join(row) for row in rows) + "\r\n"
    (tube,) = read_catalogue(written(tmp_path, text.encode(encoding)))
    assert (tube.maker, tube.name, tube.price, tube.currency) == ("Grünhag", "Écarlate", 4.2, "EUR")


def test_headers_in_mixed_case_other_languages_and_below_a_title(tmp_path: Path) -> None:
    text = "Price list 2026;;;\n\nHersteller ; FARBNAME;Inhalt (ml);Preis\nOstrel ; Rose ;37;4,20\n"
    (tube,) = read_catalogue(written(tmp_path, text))
    assert (tube.maker, tube.name, tube.size_ml, tube.price) == ("Ostrel", "Rose", 37.0, 4.2)


def test_the_delimiter_that_a_spreadsheet_announces(tmp_path: Path) -> None:
    (tube,) = read_catalogue(written(tmp_path, "sep=;\nname;label\nRose;PV19, PR122\n"))
    assert tube.label == "PV19, PR122"


def test_unknown_columns_blank_rows_and_trailing_blanks(tmp_path: Path) -> None:
    text = "name,label,Shelf,Old Code \n\nRose , PV19,A3 , 17\n,,,\n   ,  ,,\nBlue,PB29,,\n"
    rose, blue = read_catalogue(written(tmp_path, text))
    assert (rose.name, rose.label) == ("Rose", "PV19")
    assert rose.extra == {"Shelf": "A3", "Old Code": "17"}
    assert blue.extra == {}


def test_a_row_given_twice_counts_once(tmp_path: Path) -> None:
    shouted = ROW.replace("Ostrel", " OSTREL ")
    assert read_catalogue(written(tmp_path, HEADER + ROW + ROW + shouted)) == [ROSE]


def test_rows_that_contradict_are_both_told(tmp_path: Path) -> None:
    other = ROW.replace("4.20", "5.10").replace("PV19", "PR122")
    (problem,) = problems(written(tmp_path, HEADER + ROW + other))
    assert "row 3 contradicts row 2" in problem
    assert "label “PV19” and “PR122”" in problem
    assert "price “4.2” and “5.1”" in problem


def test_unknown_columns_contradict_too(tmp_path: Path) -> None:
    (problem,) = problems(written(tmp_path, "maker,name,shelf\nOstrel,Rose,A\nOstrel,Rose,B\n"))
    assert "shelf “A” and “B”" in problem


def test_every_problem_is_told_at_once_by_row_and_column(tmp_path: Path) -> None:
    text = (
        "name,grade,size_ml,price,currency,stock,swatch_lab,swatch_hex\n"
        "Rose,luxury,37 kg,free,EUR,lots,pink,#12\n"
        ",,,4,,,,\n"
        "Blue,artist,37,€4,USD,1,,\n"
    )
    told = problems(written(tmp_path, text))
    columns = ("grade", "size_ml", "price", "stock", "swatch_lab", "swatch_hex")
    for column in columns:
        assert any(p.startswith(f"row 2, column {column}: ") for p in told), column
    assert any(p.startswith("row 3: has neither a name nor a label") for p in told)
    assert any(p.startswith("row 4, column price: is written in EUR") for p in told)
    assert len(told) == 8


def test_problems_beyond_count_are_summed_up(tmp_path: Path) -> None:
    told = problems(written(tmp_path, "name,price\n" + "Rose,free\n" * 300))
    assert len(told) == 201
    assert told[-1] == "and 100 more"


def test_a_decimal_comma_without_quotes_is_told(tmp_path: Path) -> None:
    (problem,) = problems(written(tmp_path, "name,price\nRose,4,20\n"))
    assert problem.startswith("row 2, column C: “20” stands under no header")


def test_one_column_named_twice_is_told(tmp_path: Path) -> None:
    (problem,) = problems(written(tmp_path, "name,colour\nRose,Rose\n"))
    assert "a second time" in problem


@pytest.mark.parametrize("name", ["out.csv", "out.xlsx"])
def test_what_is_written_is_read_back(tmp_path: Path, name: str) -> None:
    tubes = [
        ROSE,
        Tube(
            name="=cmd|'/c calc'!A1",
            label="+49 30, @home\nsecond line",
            price=1.234,
            extra={"Shelf": "-A3", "'odd": "'=quoted", "size": "big"},
        ),
        Tube(maker="Grünhag", name="Écarlate", stock=0, size_ml=0.125),
    ]
    write_catalogue(tmp_path / name, tubes)
    again = read_catalogue(tmp_path / name)
    assert again[0] == tubes[0]
    assert replace(again[1], extra={}) == replace(tubes[1], extra={})
    assert again[1].extra == {"Shelf": "-A3", "'odd": "'=quoted", "size (other)": "big"}
    assert again[2] == tubes[2]


def test_no_written_cell_runs_in_a_spreadsheet(tmp_path: Path) -> None:
    tube = Tube(name="=1+1", label="@x", extra={"=a": "+b", "c": "-1"})
    write_catalogue(tmp_path / "out.csv", [tube])
    text = (tmp_path / "out.csv").read_text(encoding="utf-8-sig")
    cells = [cell for line in text.splitlines() for cell in line.split(",")]
    assert {"'=1+1", "'@x", "'=a", "'+b", "-1"} <= set(cells)
    write_catalogue(tmp_path / "out.xlsx", [tube])
    sheet = openpyxl.load_workbook(tmp_path / "out.xlsx").active
    assert sheet is not None
    assert all(cell.data_type != "f" for row in sheet.iter_rows() for cell in row)


def test_writing_to_places_that_cannot_be_written(tmp_path: Path) -> None:
    with pytest.raises(UserError, match=r"\.csv or \.xlsx"):
        write_catalogue(tmp_path / "out.doc", [ROSE])
    (tmp_path / "file").write_text("")
    with pytest.raises(UserError, match="cannot be written"):
        write_catalogue(tmp_path / "file" / "out.csv", [ROSE])


# ---------------------------------------------------------------- boxes


def test_boxes_may_be_sparse_and_seats_merged(tmp_path: Path) -> None:
    text = (
        "seat,maker,line,name,label\n"
        "Ada,Ostrel,Fen,Rose,\n"
        ",,,Crimson,PV19\n"
        ",,,Crimson,PR122\n"
        "Ben,,,,PB29\n"
        "ada ,,,Blue,\n"
        "Cleo,,,,\n"
    )
    ada, ben, cleo = read_boxes(written(tmp_path, text))
    assert [tube.name for tube in ada.tubes] == ["Rose", "Crimson", "Crimson", "Blue"]
    assert len({tube.id for tube in ada.tubes}) == 4
    assert ben.tubes[0].label == "PB29"
    assert cleo == Box("Cleo", ())


def test_a_tube_without_an_owner_is_told(tmp_path: Path) -> None:
    with pytest.raises(UserError) as caught:
        read_boxes(written(tmp_path, "seat,name\n,Rose\nAda,Blue\n"))
    assert caught.value.problems == ("row 2, column seat: nobody is named here or above",)


def test_boxes_without_rows_or_seats(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="no tubes"):
        read_boxes(written(tmp_path, "seat,name\n"))
    with pytest.raises(UserError, match="seat"):
        read_boxes(written(tmp_path, HEADER + ROW))


def test_two_people_may_own_one_paint_but_one_box_may_not_contradict_itself(
    tmp_path: Path,
) -> None:
    head = "seat,maker,name,label\n"
    boxes = read_boxes(written(tmp_path, head + "Ada,Ostrel,Rose,PV19\nBen,Ostrel,Rose,PR122\n"))
    assert [box.tubes[0].label for box in boxes] == ["PV19", "PR122"]
    with pytest.raises(UserError) as caught:
        read_boxes(written(tmp_path, head + "Ada,Ostrel,Rose,PV19\nAda,Ostrel,Rose,PR122\n"))
    assert "row 3 contradicts row 2" in caught.value.problems[0]


@pytest.mark.parametrize("name", ["out.csv", "out.xlsx"])
def test_boxes_are_read_back(tmp_path: Path, name: str) -> None:
    boxes = [
        Box("Ada", (ROSE, Tube(name="Blue", extra={"bought": "2020", "owner": "her aunt"}))),
        Box("Ben", ()),
        Box("Cleo", (ROSE,)),
    ]
    write_boxes(tmp_path / name, boxes)
    ada, ben, cleo = read_boxes(tmp_path / name)
    assert (ada.tubes[0], ben, cleo) == (ROSE, boxes[1], boxes[2])
    assert ada.tubes[1].extra == {"bought": "2020", "owner (other)": "her aunt"}


# ---------------------------------------------------------------- boxes meet the catalogue

LARGE = replace(ROSE, id="ostrel-fen-acrylic-rose-200ml", size_ml=200.0, price=15.0)
OIL = Tube(maker="Ostrel", line="Fen", medium="oil", name="Rose", label="PR83", size_ml=37.0)


def test_a_sparse_row_takes_what_its_product_says() -> None:
    row = Tube(maker="OSTREL", line="fen", name="rose", medium="acrylic", size_ml=37.0)
    full = complete(row, [ROSE, LARGE, OIL])
    assert (full.label, full.price, full.swatch_hex, full.grade) == (
        "PV19",
        4.2,
        "#a01040",
        "artist",
    )
    assert full.id == ROSE.id
    assert full.maker == "OSTREL"
    assert full.stock is None


def test_the_price_comes_only_from_the_same_size() -> None:
    row = Tube(maker="Ostrel", name="Rose", medium="acrylic")
    full = complete(row, Products([ROSE, LARGE, OIL]))
    assert (full.label, full.price, full.size_ml, full.id) == ("PV19", None, None, row.id)


def test_labels_of_two_sizes_may_differ_in_words_that_declare_nothing() -> None:
    small = replace(ROSE, label="PV19 · batch 7")
    full = complete(Tube(maker="Ostrel", name="Rose", medium="acrylic"), [small, LARGE])
    assert full.label == "PV19 · batch 7"


def test_what_a_row_says_is_kept_and_doubt_fills_nothing() -> None:
    told = Tube(maker="Ostrel", name="Rose", label="PR122", medium="acrylic", price=1.0)
    assert complete(told, [ROSE]).label == "PR122"
    assert complete(told, [ROSE]).currency == ""
    vague = Tube(maker="Ostrel", name="Rose")
    assert complete(vague, [ROSE, OIL]).label == ""
    nameless = Tube(name="Rose")
    assert complete(nameless, [ROSE]) == nameless
    other = Tube(maker="Ostrel", line="Heath", name="Rose")
    assert complete(other, [ROSE]) == other


def test_a_german_export_is_known_by_its_headers(tmp_path: Path) -> None:
    path = tmp_path / "export.csv"
    path.write_text(
        "Hersteller;Medium;Bezeichnung;Pigmente;Inhalt;VK brutto;Bestand\n"
        "Fenwick;Acryl;Ultramarin;PB29;60 ml;8,90;3\nFenwick;Acryl;Zitrone;PY3;60 ml;9,50;0\n"
    )
    blue, yellow = read_catalogue(path)
    assert (blue.name, blue.price, blue.stock) == ("Ultramarin", 8.9, 3)
    assert (yellow.name, yellow.size_ml) == ("Zitrone", 60)


@pytest.mark.parametrize("column", ["seat", "Platz", "Teilnehmerin"])
def test_a_file_of_boxes_is_no_shops_catalogue(tmp_path: Path, column: str) -> None:
    path = tmp_path / "boxes.csv"
    path.write_text(f"{column},name,label\n1,Blue,PB29\n2,Red,PR254\n")
    with pytest.raises(UserError, match="seems to be a file of boxes"):
        read_stock(path)
    assert len(read_catalogue(path)) == 2
