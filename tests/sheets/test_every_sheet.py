"""What holds for every sheet: pages, papers, formats, footer, and a PDF that can be read aloud."""

from __future__ import annotations

import io

import pytest
from PIL import Image
from pypdf import PdfReader

from tests.sheets.conftest import NAMES, Press, page_count, pixels, text_of, text_of_page
from tubewise.advice.cards.tint_ladder import tint_ladder
from tubewise.errors import UserError
from tubewise.sheets import ladder
from tubewise.sheets.press import PNG_PPI

MM = 72.0 / 25.4
SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("paper", SIZES)
def test_a_sheet_has_its_pages_on_either_paper(
    name: str, paper: str, sheets: dict[str, Press]
) -> None:
    (pdf,) = sheets[name].make(paper, "pdf")
    box = PdfReader(io.BytesIO(pdf)).pages[0].mediabox
    assert page_count(pdf) == sheets[name].pages
    assert (float(box.width) / MM, float(box.height) / MM) == pytest.approx(SIZES[paper], abs=0.1)


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_svg_and_png_come_page_by_page(name: str, sheets: dict[str, Press]) -> None:
    svg, png = sheets[name].make("letter", "svg"), sheets[name].make("letter", "png")
    assert len(svg) == len(png) == sheets[name].pages
    assert all(page.lstrip().startswith(b"<svg") for page in svg)
    width, height = Image.open(io.BytesIO(png[0])).size
    assert width == pytest.approx(215.9 / 25.4 * PNG_PPI, abs=1)
    assert height == pytest.approx(279.4 / 25.4 * PNG_PPI, abs=1)


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_every_page_bears_the_approximation_the_basis_and_the_date(
    name: str, sheets: dict[str, Press]
) -> None:
    (pdf,) = sheets[name].make("a4", "pdf")
    for page in range(1, sheets[name].pages + 1):
        words = text_of_page(pdf, page)
        assert "Swatches on paper only come near the paint" in words
        assert "modelled from the pigments on the labels, not measured" in words
        assert "safety data sheet, local rules and licensed practice come first" in words
        assert "4 May 2026" in words
        if sheets[name].pages > 1:
            assert f"{page} of {sheets[name].pages}" in words


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_a_screen_reader_gets_a_tagged_pdf_with_words_for_its_pictures(
    name: str, sheets: dict[str, Press]
) -> None:
    # Typst refuses to write PDF/UA-1 when a title, the order of headings or a text is missing.
    (pdf,) = sheets[name].make("a4", "pdf")
    reader = PdfReader(io.BytesIO(pdf))
    assert b"pdfuaid" in reader.trailer["/Root"]["/Metadata"].get_data()  # type: ignore[index]
    assert _alternatives(reader), "no picture has words beside it"


def _alternatives(reader: PdfReader) -> list[str]:
    found: list[str] = []
    todo = [reader.trailer["/Root"]["/StructTreeRoot"]]  # type: ignore[index]
    while todo:
        node = todo.pop().get_object()
        if isinstance(node, list):
            todo += node
        elif isinstance(node, dict):
            if "/Alt" in node:
                found.append(str(node["/Alt"]))
            if "/K" in node:
                todo.append(node["/K"])
    return found


@pytest.mark.parametrize("name", NAMES)
def test_the_same_sheet_on_the_same_day_is_the_same_file(
    name: str, sheets: dict[str, Press]
) -> None:
    assert sheets[name].make("a4", "pdf") == sheets[name].make("a4", "pdf")


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_nothing_is_cut_off_at_the_edge_of_the_paper(name: str, sheets: dict[str, Press]) -> None:
    edge = round(8.0 / 25.4 * PNG_PPI)
    for png in sheets[name].make("letter", "png"):
        page = pixels(png)
        for margin in (page[:edge], page[-edge:], page[:, :edge], page[:, -edge:]):
            assert margin.min() == 255, "something stands within 8 mm of the edge"


def test_without_a_date_a_sheet_bears_todays(sheets: dict[str, Press]) -> None:
    from datetime import date

    from tubewise.paints.shelf import Shelf
    from tubewise.sheets.press import day_words

    (made,) = ladder.pages(tint_ladder(("PB29",), Shelf()))
    assert day_words(date.today()) in text_of(made)


@pytest.mark.parametrize(("paper", "format"), [("a5", "pdf"), ("a4", "jpg"), ("", "pdf")])
def test_another_paper_or_format_is_refused(
    paper: str, format: str, sheets: dict[str, Press]
) -> None:
    with pytest.raises(UserError, match=r"the (papers|formats) are"):
        sheets["ladder"].make(paper, format)
