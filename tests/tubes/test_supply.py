from __future__ import annotations

from pathlib import Path

import openpyxl
import pytest

from tests.refs import parts, refs
from tubewise.errors import UserError
from tubewise.pigments.purpose import PRACTICE, SALE
from tubewise.tubes.supply import (
    KeyMix,
    Slot,
    SupplyList,
    read_accept,
    read_mixture,
    read_parts,
    read_ref,
    read_supply_list,
    write_supply_list,
)

SLOTS = (
    "slot,accept,medium,min_ml,note\n"
    "rose,PV19/gamma | PR122,acrylic,37,not PR209\n"
    "green,PG7 | PY3 + PG7,,,\n"
)
MIXES = "mix,parts,aim\nviolet,PV19/gamma 1 + PB29 1 + PW6 4,clear and bright\n"
HEATHER = SupplyList(
    "heather",
    (
        Slot("rose", (refs("PV19/gamma"), refs("PR122")), "acrylic", 37.0, "not PR209"),
        Slot("green", (refs("PG7"), refs("PY3", "PG7"))),
    ),
    (KeyMix("violet", parts(("PV19/gamma", 1), ("PB29", 1), ("PW6", 4)), "clear and bright"),),
)


def test_a_list_in_two_csv_files(tmp_path: Path) -> None:
    (tmp_path / "heather.csv").write_text(SLOTS)
    (tmp_path / "heather-mixes.csv").write_text(MIXES)
    assert read_supply_list(tmp_path / "heather.csv") == HEATHER


def test_the_mixes_may_stand_elsewhere_or_be_missing(tmp_path: Path) -> None:
    (tmp_path / "heather.csv").write_text(SLOTS)
    (tmp_path / "other.csv").write_text(MIXES)
    assert read_supply_list(tmp_path / "heather.csv").mixes == ()
    assert read_supply_list(tmp_path / "heather.csv", tmp_path / "other.csv") == HEATHER


@pytest.mark.parametrize("name", ["heather.csv", "heather.xlsx"])
def test_what_is_written_is_read_back(tmp_path: Path, name: str) -> None:
    kept = SupplyList(
        "heather",
        (*HEATHER.slots, Slot("white", (refs("PW6"),), extra={"shop": "=none"})),
        (*HEATHER.mixes, KeyMix("grey", parts(("PBk9", 1), ("PW6", 3)), extra={"day": "2"})),
    )
    write_supply_list(tmp_path / name, kept)
    assert read_supply_list(tmp_path / name) == kept


def test_sheets_are_found_by_their_headers(tmp_path: Path) -> None:
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["Notes for the teacher"])
    for title, text in (("One", MIXES), ("Two", SLOTS)):
        sheet = book.create_sheet(title)
        for line in text.splitlines():
            sheet.append(line.split(","))
    book.save(tmp_path / "heather.xlsx")
    assert read_supply_list(tmp_path / "heather.xlsx") == HEATHER


@pytest.mark.parametrize(
    ("written", "ref"),
    [("pbk 9", "PBk9"), ("PV19 / Gamma", "PV19/gamma"), (" pb15:3 ", "PB15:3"), ("PW6", "PW6")],
)
def test_pigments_in_loose_writing(written: str, ref: str) -> None:
    assert read_ref(written) == ref


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("rose", "is not a pigment"),
        ("PV999", "PV999 is not in the register"),
        ("PV19/delta", "no form"),
        ("", "is not a pigment"),
    ],
)
def test_pigments_that_the_register_does_not_list(written: str, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        read_ref(written)


def test_alternatives_and_sets() -> None:
    assert read_accept("PB29") == (refs("PB29"),)
    assert read_accept("PB29 or PB28\nPB29") == (refs("PB29"), refs("PB28"))
    with pytest.raises(ValueError, match="empty"):
        read_accept("PB29 | ")
    with pytest.raises(ValueError, match="names several pigments"):
        read_accept("PB29, PB28")


def test_parts_before_or_after_their_pigment() -> None:
    assert read_parts("2 PB29 + PW6 x 4 + PV19/gamma=1") == (
        ("PB29", 2),
        ("PW6", 4),
        ("PV19/gamma", 1),
    )


@pytest.mark.parametrize(
    ("written", "water"),
    [
        ("PB29 2 + PBr7 1 + water 18", 18),
        ("6 Wasser + PB29 2 + PBr7 1", 6),
        ("PB29=2 + eau=3 + PBr7 1", 3),
        ("PB29 2 + PBr7 1", 0),
    ],
)
def test_a_wash_names_its_water(written: str, water: int) -> None:
    assert read_mixture(written) == ((("PB29", 2), ("PBr7", 1)), water)


@pytest.mark.parametrize("written", ["PB29 1 + water 0", "PB29 1 + water 2 + water 3", "water 6"])
def test_water_is_said_once_and_not_alone(written: str) -> None:
    with pytest.raises(ValueError, match=r"write the water once|no pigment with its parts"):
        read_mixture(written)


def test_the_water_of_a_mix_is_written_and_read_again(tmp_path: Path) -> None:
    wet = KeyMix("sky", parts(("PB29", 2), ("PBr7", 1)), "pale", water=18)
    assert wet.parts_words == "2 PB29 + 1 PBr7 + 18 water"
    slot = Slot("blue", (refs("PB29"),), "watercolour")
    supply = SupplyList("wet", (slot,), (wet,))
    for name in ("wet.csv", "wet.xlsx"):
        write_supply_list(tmp_path / name, supply)
        assert read_supply_list(tmp_path / name) == supply


@pytest.mark.parametrize(
    ("written", "words"),
    [
        ("PB29", "with its parts"),
        ("PB29 0.5 + PW6 1", "whole ones"),
        ("PB29 0 + PW6 1", "1 to 999"),
        ("PB29 1 + PB29 2", "twice"),
        ("PB29 1 +", "with its parts"),
        ("PB29 99999999999999", "0 to 1000"),
        ("PB29 1000", "1 to 999"),
    ],
)
def test_parts_that_cannot_be_read(written: str, words: str) -> None:
    with pytest.raises(ValueError, match=words):
        read_parts(written)


def test_every_problem_of_both_files_is_told_at_once(tmp_path: Path) -> None:
    (tmp_path / "heather.csv").write_text(
        "slot,accept,min_ml\nrose,PV999,37\n,PB29,\nblue,,\ngreen,PG7,big\nrose,PB29,0\nrose,PB28,\n"
        "red,2026-03-01,\n"
    )
    (tmp_path / "heather-mixes.csv").write_text("mix,parts\nviolet,PB29\ngrey,01:03:00\n")
    with pytest.raises(UserError) as caught:
        read_supply_list(tmp_path / "heather.csv")
    told = caught.value.problems
    assert told[0].startswith("row 2, column accept: PV999 is not in the register")
    assert told[1] == "row 3, column slot: is blank; fill it in"
    assert told[2] == "row 4, column accept: is blank; fill it in"
    assert told[3].startswith("row 5, column min_ml: ")
    assert told[4].startswith("row 7 contradicts row 6")
    assert "looks like a date" in told[5]
    assert told[6].startswith("heather-mixes.csv, row 2, column parts: ")
    assert "looks like a date" in told[7]
    assert len(told) == 8


def test_files_that_are_no_supply_list(tmp_path: Path) -> None:
    path = tmp_path / "heather.csv"
    path.write_text("maker,name\nOstrel,Rose\n")
    with pytest.raises(UserError, match="slot and accept"):
        read_supply_list(path)
    path.write_text("slot,accept\n")
    with pytest.raises(UserError, match="no slots"):
        read_supply_list(path)
    path.write_text(SLOTS)
    (tmp_path / "heather-mixes.csv").write_text("maker,name\nOstrel,Rose\n")
    with pytest.raises(UserError, match="mix and parts"):
        read_supply_list(path)


def test_what_a_slots_paint_is_for_stands_in_a_column(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text(
        "slot,accept,medium,For\nRose,PV19/gamma,oil,sale\nCrimson,PR83,oil,practice\nBlue,PB29,oil,\n",
        encoding="utf-8",
    )
    rose, crimson, blue = read_supply_list(path).slots
    assert rose.purpose == SALE and crimson.purpose == PRACTICE and blue.purpose is None


def test_an_unknown_purpose_is_refused_by_row_and_column(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("slot,accept,for\nRose,PV19/gamma,museum\n", encoding="utf-8")
    with pytest.raises(UserError, match=r"row 2, column for: “museum” is no purpose we know"):
        read_supply_list(path)


def test_how_a_slots_paint_must_handle_stands_in_a_column(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text(
        "slot,accept,medium,Handling\nBlue,PB28,watercolour,Granulating; non staining\n"
        "Rose,PV19/gamma,watercolour,\n",
        encoding="utf-8",
    )
    blue, rose = read_supply_list(path).slots
    assert blue.handling == ("granulating", "non-staining") and rose.handling == ()


def test_an_unknown_handling_is_refused_by_row_and_column(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("slot,accept,handling\nBlue,PB28,bouncy\n", encoding="utf-8")
    with pytest.raises(UserError, match=r"row 2, column handling: “bouncy” is nothing we know"):
        read_supply_list(path)
