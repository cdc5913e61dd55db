"""Class: the grid, a seat, what to buy and the key mixes."""

from __future__ import annotations

import time

import httpx
import pytest

from tests.web.conftest import Visitor
from tubewise.errors import UserError


def settled(visitor: Visitor, path: str) -> str:
    """The page once the check is done; until then it asks to be read again."""
    # On a cold machine the search is compiled first.
    for _ in range(3000):
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


def test_without_list_or_boxes_the_page_says_what_to_do(newcomer: Visitor) -> None:
    page = newcomer.get("/class")
    assert "write one or bring one in" in page and "type one in" in page
    assert newcomer.client.get("/api/check").status_code == 404


def test_a_check_that_fails_is_told_and_tried_anew(
    owner: Visitor, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refused(*_: object) -> None:
        raise UserError("these boxes cannot be checked", where="seat 1")

    owner.send("/class/list", name="Roses", slots="Rose: PV19/gamma")
    with monkeypatch.context() as broken:
        broken.setattr("tubewise.web.class_choice.check", refused)
        answer = owner.client.get("/class")
        assert answer.status_code == 422 and "these boxes cannot be checked" in answer.text
    assert "can paint the lesson" in settled(owner, "/class")


def test_the_purpose_is_kept_from_page_to_page(reader: Visitor) -> None:
    page = settled(reader, "/class?list=Moor&boxes=Moor&for=sale")
    assert '<option value="sale" selected>' in page
    assert "/class/shopping?list=Moor&amp;boxes=Moor&amp;for=sale" in page
    for tab in ("list", "boxes"):
        page = reader.get(f"/class/{tab}?list=Moor&boxes=Moor&for=sale")
        assert f"/class/{tab}?list=Moor&amp;boxes=Moor&amp;for=sale" in page
        assert "/class/shopping?list=Moor&amp;boxes=Moor&amp;for=sale" in page
    page = reader.get("/class/list?list=Moor&boxes=Moor&for=sale")
    assert "/sheets/supply-list.pdf?list=Moor&amp;boxes=Moor&amp;for=sale" in page
    page = reader.get("/class/boxes?list=Moor&boxes=Moor&for=sale")
    assert "/class/seat?list=Moor&amp;boxes=Moor&amp;seat=8&amp;for=sale" in page
    assert "is no purpose we know" in reader.get("/class?list=Moor&for=fun", status=422)


def test_what_is_known_against_a_paint_stands_beside_its_slot(owner: Visitor) -> None:
    owner.send("/class/list", name="Roses", slots="Crimson: PR83", medium="oil")
    tubes = "Alizarin Crimson, PR83, oil"
    owner.send("/class/boxes", boxes="Roses", seat="3", tubes=tubes)
    settled(owner, "/class?list=Roses&boxes=Roses&for=sale")
    seat = owner.get("/class/seat?list=Roses&boxes=Roses&seat=3&for=sale")
    assert "PR83 (alizarin crimson) is III in oil, and pictures for sale ask for" in seat
    settled(owner, "/class?list=Roses&boxes=Roses")
    seat = owner.get("/class/seat?list=Roses&boxes=Roses&seat=3")
    assert '<p class="note">PR83 (alizarin crimson): Fades in light' in seat
    assert "does not last for pictures for sale" in owner.get("/class/list?list=Roses&for=sale")
    assert "does not last" not in owner.get("/class/list?list=Roses")


def test_a_class_of_two_media_hears_what_lies_over_what(owner: Visitor) -> None:
    slots = "Ground: PY43"
    owner.send("/class/list", name="Two", slots=slots, medium="acrylic")
    sheet = b"slot,accept,medium\nGround,PY43,acrylic\nBlue,PB29,oil\n"
    owner.send("/class/list/file", name="Two", files={"file": ("two.csv", sheet)})
    page = settled(owner, "/class?list=Two&boxes=Moor")
    assert "In layers: oil lies over acrylic, never under it" in page
