"""The tray keeps tubes from page to page, without a script."""

from __future__ import annotations

import re

from tests.web.conftest import Visitor


def some_tubes(visitor: Visitor, many: int) -> list[str]:
    found = re.findall(r'name="lay" value="([^"]+)"', visitor.get("/tubes"))
    return list(dict.fromkeys(found))[:many]


def lay(visitor: Visitor, tube: str) -> None:
    answer = visitor.client.post("/tray", data={"lay": tube}, follow_redirects=False)
    assert answer.status_code == 303


def test_tubes_are_laid_on_it_and_taken_off(owner: Visitor) -> None:
    first, second = some_tubes(owner, 2)
    lay(owner, first)
    lay(owner, second)
    page = owner.get("/tray")
    assert f"/tubes/{first}" in page and f"/tubes/{second}" in page
    assert f"/side-by-side?t={first}&amp;t={second}" in page
    owner.client.post("/tray", data={"take": first})
    assert f'href="/tubes/{first}"' not in owner.get("/tray")


def test_the_oldest_makes_room_on_a_full_tray(owner: Visitor) -> None:
    tubes = some_tubes(owner, 13)
    for tube in tubes:
        lay(owner, tube)
    page = owner.get("/tray")
    assert f'href="/tubes/{tubes[0]}"' not in page and f'href="/tubes/{tubes[12]}"' in page


def test_all_of_it_goes_into_a_box(owner: Visitor) -> None:
    for tube in some_tubes(owner, 3):
        lay(owner, tube)
    page = owner.follow(owner.send("/tray/box", box="Moor\n", seat="9"))
    assert "in the box of 9 now" in page
    assert "Seat 9" in owner.get("/class/boxes?boxes=Moor")


def test_it_leads_back_only_to_this_server(owner: Visitor) -> None:
    (tube,) = some_tubes(owner, 1)
    for came, back in [
        ("http://elsewhere.invalid/x", "/tray"),
        ("http://127.0.0.1/tubes", "/tubes"),
    ]:
        answer = owner.client.post(
            "/tray", data={"lay": tube}, headers={"referer": came}, follow_redirects=False
        )
        assert answer.headers["location"] == back


def test_a_tube_that_is_gone_is_no_fault(owner: Visitor) -> None:
    owner.client.cookies.set("tray", "no-such-tube~another")
    assert "Nothing yet" in owner.get("/tray")
