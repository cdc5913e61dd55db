"""The register as a rack of paint, and a page for each pigment."""

from __future__ import annotations

import re

import pytest

from tests.web.conftest import Visitor
from tubewise.pigments.register import load


def test_every_pigment_has_a_tile_and_a_page(reader: Visitor) -> None:
    page = reader.get("/pigments")
    linked = set(re.findall(r'href="/pigments/([^"?]+)"', page))
    assert {code.replace(":", "%3A") for code in load().codes} == linked


@pytest.mark.slow
def test_every_pigment_page_stands(reader: Visitor) -> None:
    for code in load().codes:
        assert f'<span class="code">{code}</span>' in reader.get(f"/pigments/{code}")


def test_a_page_tells_forms_permanence_cautions_and_who_sells_it(reader: Visitor) -> None:
    page = reader.get("/pigments/PV19")
    assert "PV19/gamma" in page and "PV19/beta" in page
    assert "watercolour: I, excellent" in page and "Tubes of it alone" in page
    assert "Cautions" in reader.get("/pigments/PB28")


def test_how_it_handles_is_told_medium_by_medium(reader: Visitor) -> None:
    assert "in oil" in reader.get("/pigments/PBr7?medium=oil").split("How it handles")[1]
    assert "no medium we know" in reader.get("/pigments/PBr7?medium=custard", 422)


def test_a_hue_is_shown_as_strips(reader: Visitor) -> None:
    page = reader.get("/pigments?hue=violet")
    assert "PV23" in page and "PY74" not in page
    assert "ask for yellow, orange" in reader.get("/pigments?hue=plaid", 422)


def test_an_unknown_code_says_so(reader: Visitor) -> None:
    assert "not in the register" in reader.get("/pigments/PV999", 404)


def test_pages_work_without_any_tube(newcomer: Visitor) -> None:
    assert "quinacridone" in newcomer.get("/pigments/PV19")
