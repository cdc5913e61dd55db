"""Boxes: typed in, sent, removed, brought back and given out."""

from __future__ import annotations

import html

import pytest

from tests.web.conftest import Visitor


def test_a_box_is_typed_in_as_it_reads(owner: Visitor) -> None:
    page = owner.follow(
        owner.send(
            "/class/boxes",
            boxes="Moor",
            seat="13",
            tubes="Permanent Rose (PV19)\nMystery | PB29\n"
            "thornquay-wherry-acrylic-titanium-white-60ml\n\n",
        )
    )
    assert "Seat 13" in page and "3 tubes" in page
    shown = owner.get("/class/boxes?boxes=Moor&seat=13")
    assert "Mystery | PB29" in shown and "Permanent Rose | Permanent Rose (PV19)" in shown
    assert "Thornquay Wherry Titanium White |" in shown


@pytest.mark.slow
def test_a_box_left_as_it_was_stays_as_it_was(owner: Visitor) -> None:
    before = owner.client.get("/api/boxes").json()[0]
    shown = owner.get("/class/boxes?boxes=Moor&seat=1")
    typed = shown.split('<textarea id="tubes"')[1].split(">", 1)[1].split("</textarea>")[0]
    owner.send("/class/boxes", boxes="Moor", seat="1", tubes=html.unescape(typed))
    assert owner.client.get("/api/boxes").json()[0] == before


@pytest.mark.slow
def test_a_box_is_removed_and_brought_back(owner: Visitor) -> None:
    page = owner.follow(owner.send("/class/boxes/remove", boxes="Moor", seat="8"))
    assert "The box of 8 was removed" in page and "Undo" in page
    owner.send("/class/boxes/remove", 404, boxes="Moor", seat="8")
    assert "Seat 8" in owner.follow(owner.send("/class/boxes/restore", boxes="Moor", seat="8"))
    owner.send("/class/boxes/restore", 404, boxes="Moor", seat="8")


def test_a_box_needs_a_seat_and_an_end(owner: Visitor) -> None:
    assert "whose box" in owner.send("/class/boxes", 422, boxes="Moor", seat=" ").text
    many = "\n".join(f"Tube {n}" for n in range(201))
    assert "too many" in owner.send("/class/boxes", 422, boxes="M", seat="1", tubes=many).text


@pytest.mark.slow
def test_boxes_come_and_go_as_spreadsheets(owner: Visitor) -> None:
    sheet = owner.client.get("/class/boxes.csv?boxes=Moor")
    assert sheet.headers["content-type"].startswith("text/csv")
    page = owner.follow(
        owner.send("/class/boxes/file", boxes="Again", files={"file": ("b.csv", sheet.content)})
    )
    assert "Again: 2 seats" in page
    book = owner.client.get("/class/boxes.xlsx?boxes=Moor")
    assert book.content[:2] == b"PK"
    owner.send("/class/boxes/file", boxes="Book", files={"file": ("b.xlsx", book.content)})
    owner.get("/class/boxes.pdf", status=404)


def test_formulas_are_neutralised_on_the_way_out(owner: Visitor) -> None:
    owner.send("/class/boxes", boxes="Moor", seat="=1+1", tubes='=HYPERLINK("x") | PB29')
    text = owner.client.get("/class/boxes.csv?boxes=Moor").text
    assert "'=1+1" in text and "'=HYPERLINK" in text


def test_a_bad_spreadsheet_is_refused_by_row_and_column(owner: Visitor) -> None:
    bad = b"seat,name,price\n1,Rose,cheap\n"
    answer = owner.send("/class/boxes/file", 422, boxes="M", files={"file": ("b.csv", bad)})
    assert "row 2" in answer.text and "price" in answer.text


def test_too_many_seats(owner: Visitor) -> None:
    rows = "seat,name\n" + "\n".join(f"{n},Rose" for n in range(401))
    answer = owner.send(
        "/class/boxes/file", 422, boxes="M", files={"file": ("b.csv", rows.encode())}
    )
    assert "400 seats" in answer.text
