"""Sold out: what instead, from the rack to the answer."""

from __future__ import annotations

import html
import re

import pytest

from tests.web.conftest import Visitor


def gone(page: str) -> list[str]:
    return [html.unescape(a) for a in re.findall(r'href="(/instead\?t=[^"]+)"', page)]


def test_what_is_sold_out_lies_there_to_be_tapped(reader: Visitor) -> None:
    page = reader.get("/instead")
    assert "Sold out now" in page and len(gone(page)) > 10


@pytest.mark.slow
def test_an_answer_names_what_is_in_stock_with_its_price(reader: Visitor) -> None:
    address = next(a for a in gone(reader.get("/instead")) if "dabble-acrylic-ultramarine" in a)
    page = _answered(reader, address)
    assert "Instead of Thornquay Dabble Ultramarine" in page
    assert "the same to the eye" in page and "EUR" in page
    shown = page.split("How sure")[0].split("<main")[1]
    assert "sold out" not in shown.lower().replace("sold out?", "")


@pytest.mark.slow
def test_for_sale_nothing_that_fades_is_offered(reader: Visitor) -> None:
    address = next(a for a in gone(reader.get("/instead")) if "permanent-rose" in a)
    lasting = _answered(reader, f"{address}&for=sale")
    assert "For practice too" in lasting
    offered = lasting.split("How sure")[0]
    assert "fades fast" not in offered and "fugitive" not in offered


def test_a_pigment_is_asked_in_which_paint(reader: Visitor) -> None:
    page = reader.get("/instead?t=PV19")
    assert "PV19 in which paint?" in page and "medium=acrylic" in page


def test_a_name_of_many_tubes_is_picked_from(reader: Visitor) -> None:
    page = reader.get("/instead?t=permanent+rose")
    assert "Which of these?" in page and len(gone(page)) > 3


def test_a_name_of_nothing_says_what_to_type(reader: Visitor) -> None:
    assert "Try fewer words" in reader.get("/instead?t=zzyzx+qwv")


def _answered(reader: Visitor, address: str) -> str:
    for _ in range(300):
        page = reader.get(address)
        if "The page comes by itself" not in page:
            return page
    raise AssertionError("no answer came")
