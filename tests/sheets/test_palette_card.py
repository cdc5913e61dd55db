"""The palette card: its tubes, its circles, the missing corner."""

from __future__ import annotations

import io
from datetime import date

import pytest
from PIL import Image
from pypdf import PdfReader

from tests.advice.palette.shop import box, shop
from tubewise.advice.palette.offer import offer_of
from tubewise.advice.palette.reach import widest_range
from tubewise.paints.shelf import Shelf
from tubewise.sheets.palette_card import data, pages

DAY = date(2026, 5, 4)


@pytest.mark.slow
def test_the_card_names_its_tubes_and_the_missing_corner(shelf: Shelf) -> None:
    answer = widest_range(offer_of(shop(), shelf), 3, shelf)
    (pdf,) = pages(answer, on=DAY)
    words = " ".join(" ".join(p.extract_text() for p in PdfReader(io.BytesIO(pdf)).pages).split())
    for member in answer.tubes:
        assert member.tube.title in words
    assert answer.shape.missing
    assert answer.shape.missing[0] in words
    assert "4 May 2026" in words


def test_a_cleaner_colour_is_a_larger_circle(shelf: Shelf) -> None:
    offer = offer_of(box("PW6", "PY3", "PB29"), shelf)
    rows = data(widest_range(offer, 3, shelf))["hues"]
    largest = {row["name"]: max(cell["size"] for cell in row["cells"]) for row in rows}
    assert largest["yellow"] > largest["orange-red"]


@pytest.mark.slow
def test_it_comes_in_every_format_and_on_either_paper(shelf: Shelf) -> None:
    answer = widest_range(offer_of(shop(), shelf), 3, shelf)
    assert pages(answer, "letter", "svg", DAY)[0].lstrip().startswith(b"<svg")
    png = Image.open(io.BytesIO(pages(answer, "a4", "png", DAY)[0]))
    assert len(set(png.convert("RGB").resize((200, 280)).getdata())) > 200
