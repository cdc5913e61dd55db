"""Supply lists: shown by pigment, typed in, sent, removed and brought back."""

from __future__ import annotations

import pytest

from tests.web.conftest import Visitor


def test_the_supply_list_by_pigment(reader: Visitor) -> None:
    page = reader.get("/class/list?list=Moor")
    assert "PV19/gamma" in page and "at least 30 ml" in page and "Key mixes" in page


@pytest.mark.slow
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
