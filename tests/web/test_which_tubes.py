"""Which tubes, as a page: each question asked of the demo's shop and boxes."""

from __future__ import annotations

from urllib.parse import urlencode

import pytest

from tests.web.conftest import Visitor

BOX = "Moor\n1"


def asked(reader: Visitor, status: int = 200, **words: str) -> str:
    return reader.get(f"/which-tubes?{urlencode(words)}", status)


def test_an_empty_page_says_what_can_be_asked(reader: Visitor) -> None:
    page = asked(reader)
    assert "Ask which few tubes reach most" in page
    assert 'href="/which-tubes" aria-current="page"' in page


@pytest.mark.slow
def test_what_a_box_reaches_is_drawn_and_printed(reader: Visitor) -> None:
    page = asked(reader, ask="box", box=BOX)
    assert "cubic units of CIELAB" in page
    assert page.count("<circle") > 60
    assert "Without it" in page
    answer = reader.client.get(f"/which-tubes/card.pdf?{urlencode({'ask': 'box', 'box': BOX})}")
    assert answer.status_code == 200
    assert answer.content.startswith(b"%PDF")


@pytest.mark.slow
def test_without_one_tube(reader: Visitor) -> None:
    assert "this box reaches" in asked(reader, ask="without", box=BOX, tube="PY3")
    assert "PO62" in asked(reader, ask="without", box=BOX, tube="PO62")


@pytest.mark.slow
def test_two_boxes_beside_each_other(reader: Visitor) -> None:
    page = asked(reader, ask="versus", box=BOX, other=BOX)
    assert page.count('class="chart reach"') == 2
    assert "both reach as much" in page.casefold()
    # Seat 8 holds oils and one acrylic.
    assert "do not mix" in asked(reader, ask="versus", box=BOX, other="Moor\n8")


@pytest.mark.slow
def test_a_lesson_and_the_next_tube(reader: Visitor) -> None:
    stock = "stock\nacrylic\nartist"
    page = asked(reader, ask="lesson", box=stock, list="Moor")
    assert "tints of them within CIEDE2000 2" in page
    page = asked(reader, ask="next", box=BOX, other=stock)
    assert "more range" in page


def test_a_list_nobody_has_is_told(reader: Visitor) -> None:
    assert "no such supply list" in asked(reader, ask="lesson", box=BOX, list="none")
