"""Class: the list, the boxes, the grid, a seat, what to buy and the key mixes."""

from __future__ import annotations

import time

import httpx
import pytest

from tests.web.conftest import Visitor
from tubewise.errors import UserError


def settled(visitor: Visitor, path: str) -> str:
    """The page once the check is done; until then it asks to be read again."""
    for _ in range(600):
        answer: httpx.Response = visitor.client.get(path)
        assert answer.status_code == 200, answer.text[:2000]
        if "refresh" not in answer.headers:
            return answer.text
        assert "Checking the boxes" in answer.text
        time.sleep(0.2)
    raise AssertionError("the check never ended")


def test_the_grid_shows_every_seat_and_slot(reader: Visitor) -> None:
    page = settled(reader, "/class?list=Moor&boxes=Moor")
    assert "1 seat of 2 can paint" in page
    assert 'aria-label="Permanent rose: right pigment"' in page
    assert 'aria-label="Permanent rose: missing"' in page
    assert "lacks everything" in page


def test_a_seat_is_told_what_to_do(reader: Visitor) -> None:
    settled(reader, "/class?list=Moor&boxes=Moor")
    page = reader.get("/class/seat?seat=8&list=Moor&boxes=Moor")
    assert "Seat 8: not ready" in page and "they do not mix" in page
    assert "In the box" in page
    assert "There is no seat" in reader.get("/class/seat?seat=99", status=404)


def test_the_shopping_list_goes_by_shop(reader: Visitor) -> None:
    settled(reader, "/class?list=Moor&boxes=Moor")
    page = reader.get("/class/shopping?list=Moor&boxes=Moor")
    assert "In all:" in page and "EUR" in page and "For seats" in page


def test_the_key_mixes_as_each_seat_gets_them(reader: Visitor) -> None:
    settled(reader, "/class?list=Moor&boxes=Moor")
    page = reader.get("/class/mixes?list=Moor&boxes=Moor")
    assert "Heather in full sun" in page and "Seat by seat" in page


def test_json_gives_the_same_check(reader: Visitor) -> None:
    settled(reader, "/class?list=Moor&boxes=Moor")
    answer = reader.client.get("/api/check?list=Moor&boxes=Moor").json()
    assert [s["seat"] for s in answer["seats"]] == ["1", "8"]
    assert {s["verdict"] for s in answer["seats"][1]["slots"]} == {"missing"}


def test_the_supply_list_by_pigment(reader: Visitor) -> None:
    page = reader.get("/class/list?list=Moor")
    assert "PV19/gamma" in page and "at least 30 ml" in page and "Key mixes" in page


def test_without_list_or_boxes_the_page_says_what_to_do(newcomer: Visitor) -> None:
    page = newcomer.get("/class")
    assert "write one or bring one in" in page and "type one in" in page
    assert newcomer.client.get("/api/check").status_code == 404


def test_a_list_is_written_removed_and_brought_back(owner: Visitor) -> None:
    page = owner.follow(
        owner.send(
            "/class/list",
            name="Roses",
            slots="Rose: PV19/gamma | PR122\nBlue: PB15:3",
            mixes="Dusk: PV19/gamma 1 + PW6 4",
            medium="acrylic",
        )
    )
    assert "The list is kept" in page and "PB15:3" in page and "Dusk" in page
    page = owner.follow(owner.send("/class/list/remove", name="Roses"))
    assert "The list Roses was removed" in page and "Undo" in page
    owner.send("/class/list/remove", 404, name="Roses")
    assert "Dusk" in owner.follow(owner.send("/class/list/restore", name="Roses"))
    owner.send("/class/list/restore", 404, name="Roses")


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"name": "", "slots": "Rose: PV19"}, "Give the workshop a name"),
        ({"name": "x", "slots": ""}, "at least one slot"),
        ({"name": "x", "slots": "Rose PV19"}, "line 1"),
        ({"name": "x", "slots": "Rose: PZ19"}, "slots, line 1"),
        ({"name": "x", "slots": "Rose: PV19", "mixes": "Dusk: PV19"}, "mixes, line 1"),
    ],
)
def test_a_list_nobody_can_read(owner: Visitor, fields: dict[str, str], words: str) -> None:
    assert words in owner.send("/class/list", 422, **fields).text


def test_a_list_comes_from_a_spreadsheet(owner: Visitor) -> None:
    slots = b"slot,accept,medium\nRose,PV19/gamma,acrylic\n"
    mixes = b"mix,parts\nDusk,PV19/gamma 1 + PW6 4\n"
    answer = owner.send(
        "/class/list/file",
        name="Sent",
        files={"file": ("list.csv", slots), "mixes": ("mixes.csv", mixes)},
    )
    page = owner.follow(answer)
    assert "Sent" in page and "Dusk" in page


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


def test_a_box_left_as_it_was_stays_as_it_was(owner: Visitor) -> None:
    before = owner.client.get("/api/boxes").json()[0]
    shown = owner.get("/class/boxes?boxes=Moor&seat=1")
    typed = shown.split('<textarea id="tubes"')[1].split(">", 1)[1].split("</textarea>")[0]
    import html

    owner.send("/class/boxes", boxes="Moor", seat="1", tubes=html.unescape(typed))
    assert owner.client.get("/api/boxes").json()[0] == before


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


def test_a_check_that_fails_is_told_and_tried_anew(
    owner: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object) -> None:
        raise UserError("these boxes cannot be checked", where="seat 1")

    owner.send("/class/list", name="Roses", slots="Rose: PV19/gamma")
    with monkeypatch.context() as broken:
        broken.setattr("tubewise.web.pages.classroom.check", refused)
        answer = owner.client.get("/class")
        assert answer.status_code == 422 and "these boxes cannot be checked" in answer.text
    assert "can paint the lesson" in settled(owner, "/class")
