"""My box as a palette, and the way to its gaps."""

from __future__ import annotations

import html
import re

from tests.web.conftest import Visitor


def test_one_picks_whose_box_and_sees_its_paint(reader: Visitor) -> None:
    page = reader.get("/box")
    address = html.unescape(re.findall(r'href="(/box\?box=[^"]+)"', page)[0])
    own = reader.get(address)
    assert "Seat 1" in own and "Which tube next?" in own and own.count('class="tile"') > 5


def test_without_a_box_the_way_to_one_is_shown(newcomer: Visitor) -> None:
    assert "Type one in" in newcomer.get("/box")
