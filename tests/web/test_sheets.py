"""Printed sheets from the pages: PDF whole, SVG and PNG page by page."""

from __future__ import annotations

import io
import re
import zipfile
from html import unescape
from urllib.parse import quote

import pytest

from tests.web.conftest import Visitor
from tests.web.test_classroom import settled

BOX = quote("Moor\n1")
ROSE = "thornquay-wherry-acrylic-permanent-rose-60ml"


@pytest.mark.slow
@pytest.mark.parametrize(
    "sheet",
    [
        f"comparison.pdf?t={ROSE}&t=PR209&with=PB29",
        f"recipe.pdf?target=munsell:5P+5/6&box={BOX}&max_paints=3",
        "supply-list.pdf?list=Moor",
        f"tint-ladder.pdf?t={ROSE}",
        "mixing-chart.pdf?t=PB29&t=PY3&t=PR122",
        f"mixing-chart.pdf?box={BOX}",
        "shelf-labels.pdf?q=permanent+rose&medium=acrylic",
        f"shelf-labels.pdf?t={ROSE}",
    ],
)
def test_a_page_becomes_a_sheet(reader: Visitor, sheet: str) -> None:
    answer = reader.client.get(f"/sheets/{sheet}")
    assert answer.status_code == 200, answer.text[:500]
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content[:5] == b"%PDF-"


@pytest.mark.slow
def test_the_class_report(reader: Visitor) -> None:
    settled(reader, "/class?list=Moor&boxes=Moor")
    answer = reader.client.get("/sheets/class-report.pdf?list=Moor&boxes=Moor&paper=letter")
    assert answer.content[:5] == b"%PDF-"


@pytest.mark.slow
def test_pictures_come_page_by_page(reader: Visitor) -> None:
    png = reader.client.get("/sheets/comparison.png?t=PB29&t=PR209")
    assert png.content[:4] == b"\x89PNG" and "attachment" in png.headers["content-disposition"]
    svg = reader.client.get("/sheets/comparison.svg?t=PB29&t=PR209")
    assert b"<svg" in svg.content[:200]
    assert "pages" in reader.get("/sheets/comparison.svg?t=PB29&t=PR209&page=9", status=404)


def test_letter_goes_with_fluid_ounces(reader: Visitor) -> None:
    metric = reader.client.get("/sheets/tint-ladder.pdf?t=PB29&units=metric").content
    us = reader.client.get("/sheets/tint-ladder.pdf?t=PB29&units=us").content
    reader.client.get("/label?units=metric")
    assert metric != us


@pytest.mark.slow
@pytest.mark.parametrize(
    ("sheet", "status"),
    [
        ("comparison.pdf?t=PB29", 422),
        ("comparison.gif?t=PB29&t=PR209", 404),
        ("tint-ladder.pdf?t=PB29&paper=a0", 422),
        ("tint-ladder.pdf?t=nonsense", 422),
        ("recipe.pdf?target=PB29&which=40&box=" + BOX, 422),
    ],
)
def test_sheets_nobody_can_print(reader: Visitor, sheet: str, status: int) -> None:
    reader.get(f"/sheets/{sheet}", status=status)


def test_an_empty_store_has_nothing_to_print(newcomer: Visitor) -> None:
    newcomer.get("/sheets/supply-list.pdf", status=404)
    newcomer.get("/sheets/class-report.pdf", status=404)
    newcomer.get("/sheets/shelf-labels.pdf", status=422)


@pytest.mark.slow
def test_pictures_of_several_pages_come_packed_or_one_by_one(reader: Visitor) -> None:
    address = "/sheets/shelf-labels.png?medium=acrylic&maker=Thornquay"
    answer = reader.client.get(address)
    assert answer.headers["content-type"] == "application/zip"
    assert 'filename="shelf-labels-png.zip"' in answer.headers["content-disposition"]
    with zipfile.ZipFile(io.BytesIO(answer.content)) as packed:
        names = packed.namelist()
        assert names[:2] == ["shelf-labels-01.png", "shelf-labels-02.png"]
        second = reader.client.get(f"{address}&page=2")
        assert second.content == packed.read(names[1])
        assert second.headers["content-type"] == "image/png"


@pytest.mark.slow
@pytest.mark.parametrize(
    "page",
    [
        f"/tubes/{ROSE}",
        "/side-by-side?t=PB29&t=PR209",
        "/class/list?list=Moor",
        "/tubes?q=permanent+rose",
        f"/box?box={BOX}",
    ],
)
def test_a_page_offers_a4_letter_and_a_picture(reader: Visitor, page: str) -> None:
    found = re.findall(
        r'href="(/sheets/[^"]*)"[^>]*aria-label="[^"]*(A4|Letter|PNG)', reader.get(page)
    )
    assert [paper for _, paper in found] == ["A4", "Letter", "PNG"]
    for address, paper in found:
        answer = reader.client.get(unescape(address))
        assert answer.status_code == 200, (address, answer.text[:300])
        assert (".png" in address) == (paper == "PNG")
