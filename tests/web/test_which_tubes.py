"""Which tubes, as a page: each question asked of the demo's shop and boxes."""

from __future__ import annotations

import time
from urllib.parse import urlencode

import numpy as np
import pytest

from tests.web.conftest import Visitor
from tubewise.pictures.opening import open_picture
from tubewise.pictures.saving import jpeg

BOX = "Moor\n1"


def asked(reader: Visitor, **words: str) -> str:
    return waited(reader, f"/which-tubes?{urlencode(words)}")


def waited(reader: Visitor, address: str) -> str:
    """The page once its answer is there, as a browser gets it that looks again by itself."""
    for _ in range(600):
        answer = reader.client.get(address)
        assert answer.status_code == 200
        if "refresh" not in answer.headers:
            return str(answer.text)
        time.sleep(0.1)
    raise AssertionError("no answer within a minute")


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


@pytest.mark.parametrize(
    ("ask", "there", "absent"),
    [
        ("lesson", ('id="list"',), ('id="count"', 'id="other"', 'id="tube"', 'id="colours"')),
        ("widest", ('id="count"',), ('id="list"', 'id="other"', 'id="tube"')),
        ("without", ('id="tube"', 'id="colours"'), ('id="list"', 'id="count"', 'id="other"')),
        ("next", ('id="other"', 'id="colours"'), ('id="list"', 'id="count"', 'id="tube"')),
    ],
)
def test_a_question_shows_only_the_fields_it_needs(
    reader: Visitor, ask: str, there: tuple[str, ...], absent: tuple[str, ...]
) -> None:
    page = asked(reader, ask=ask)
    assert all(field in page for field in there)
    assert not any(field in page for field in absent)


@pytest.mark.slow
def test_colours_of_ones_own_are_the_aims(reader: Visitor) -> None:
    page = asked(reader, ask="without", box=BOX, tube="PY3", colours="PY3\n#6d4a7c")
    assert "What your colours lose" in page and "<b>PY3</b>" in page
    assert "colours, line 2" in asked(reader, ask="next", box=BOX, other=BOX, colours="PY3\nnought")


@pytest.mark.slow
def test_a_picture_is_taken_in_and_shown_in_the_tubes(owner: Visitor) -> None:
    pixels = np.zeros((300, 400, 3), np.uint8)
    pixels[:150], pixels[150:] = (150, 180, 210), (90, 110, 60)
    sent = owner.send(
        "/which-tubes/picture",
        files={"file": ("moor.jpg", jpeg(pixels), "image/jpeg")},
        box=BOX,
    )
    address = sent.headers["location"]
    page = waited(owner, address)
    assert "As it is, and in the nearest mixtures" in page
    shown = owner.client.get(address.replace("?", ".jpg?"))
    assert shown.headers["content-type"] == "image/jpeg"
    assert open_picture(shown.content).shape == (300, 812, 3)


@pytest.mark.slow
def test_what_is_no_picture_is_told_on_the_page(owner: Visitor) -> None:
    files = {"file": ("moor.jpg", b"not a picture", "image/jpeg")}
    address = owner.send("/which-tubes/picture", files=files, box=BOX).headers["location"]
    assert 'role="alert"' in waited(owner, address)
    assert "gone" in owner.get("/which-tubes/picture/nothing", 404)
