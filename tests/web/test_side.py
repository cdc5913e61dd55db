"""Side by side: touching strips, the verdict in words, partners of one's choice."""

from __future__ import annotations

import html
import re

from tests.web.conftest import Visitor

ROSE = "thornquay-wherry-acrylic-permanent-rose-60ml"


def test_an_empty_page_asks_for_two(reader: Visitor) -> None:
    page = reader.get("/side-by-side")
    assert "Lay two to four paints" in page and "And the second" in page


def test_one_paint_waits_for_another(reader: Visitor) -> None:
    assert "One more paint" in reader.get(f"/side-by-side?t={ROSE}")


def test_two_paints_are_told_apart_in_words(reader: Visitor) -> None:
    page = reader.get(f"/side-by-side?t={ROSE}&t=PR209")
    assert "different pigments" in page
    assert "alone" in page and "thin over white" in page and "tint 1:10" in page
    assert page.count('<svg class="strip"') == 2
    assert '<svg class="chart"' in page and '<svg class="plane"' in page


def test_four_paints_and_no_more(reader: Visitor) -> None:
    page = reader.get("/side-by-side?t=PV19/gamma&t=PR209&t=PR122&t=PV19/beta")
    assert page.count('class="verdict"') == 3
    many = "&".join(f"t={t}" for t in ("PV19/gamma", "PR209", "PR122", "PV19/beta", "PB29"))
    assert "At most 4" in reader.get(f"/side-by-side?{many}", status=422)


def test_partners_can_be_chosen(reader: Visitor) -> None:
    page = reader.get("/side-by-side?t=PV19/gamma&t=PR209&with=PG7")
    assert "with PG7 and white (1 : 1 : 4)" in page and "with PB29" not in page


def test_an_unknown_paint_is_told_and_the_others_stay(reader: Visitor) -> None:
    page = reader.get("/side-by-side?t=PV19/gamma&t=nonsense")
    assert "nonsense:" in page and "One more paint" in page
    assert "That did not work" in reader.get("/side-by-side?t=PV19&t=PR209&with=zz", status=422)


def test_what_fades_is_said_first_and_the_purpose_is_kept(reader: Visitor) -> None:
    page = reader.get("/side-by-side?t=PR83&t=PV19/gamma")
    assert "<b>PR83</b>: " in page and "Fades in light" in page
    assert "pictures for sale" not in page
    page = reader.get("/side-by-side?t=PR83&t=PV19/gamma&for=sale")
    assert "pictures for sale ask for" in page
    assert '<option value="sale" selected>' in page and 'value="sale"' not in page.split("<h1>")[0]
    assert "/sheets/comparison.pdf?t=PR83&amp;t=PV19%2Fgamma&amp;for=sale" in page
    assert "is no purpose we know" in reader.get("/side-by-side?t=PR83&for=fun", status=422)


def test_the_purpose_reaches_the_card_and_the_json(reader: Visitor) -> None:
    answer = reader.client.get("/api/compare?a=PR83&b=PV19/gamma&for=sale").json()
    assert "pictures for sale" in answer["warnings"][0]
    card = reader.client.get("/sheets/comparison.pdf?t=PR83&t=PV19/gamma&for=sale")
    assert card.status_code == 200 and card.content[:5] == b"%PDF-"


def test_a_name_of_several_paints_is_picked_from(reader: Visitor) -> None:
    page = reader.get("/side-by-side?t=ultramarine&t=PB28", 422)
    assert "Which of these?" in page
    way = html.unescape(re.findall(r'href="(/side-by-side\?t=[^"]+PB28)"', page)[0])
    assert "Situation by situation" in reader.get(way)
