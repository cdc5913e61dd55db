"""Tubes: found, looked at, read from a label, put into a box."""

from __future__ import annotations

import re

import pytest

from tests.web.conftest import Visitor

ROSE = "thornquay-wherry-acrylic-permanent-rose-60ml"


def listed(page: str) -> list[str]:
    return re.findall(r'name="t" value="([^"]+)"', page)


@pytest.mark.slow
def test_every_tube_is_listed_page_by_page(reader: Visitor) -> None:
    first, second = reader.get("/tubes"), reader.get("/tubes?at=2")
    assert "390 tubes" in first
    assert len(listed(first)) == 24
    assert not set(listed(first)) & set(listed(second))
    assert 'rel="next"' in first and 'rel="prev"' in second


def test_a_misspelt_name_finds_its_tube(reader: Visitor) -> None:
    assert ROSE in listed(reader.get("/tubes?q=permanant+rose"))


@pytest.mark.slow
def test_a_bare_code_brings_its_suffixed_kin(reader: Visitor) -> None:
    page = reader.get("/tubes?code=pb15")
    assert "PB15:3" in page and "PB15:1" in page


@pytest.mark.slow
def test_conditions_narrow_together(reader: Visitor) -> None:
    page = reader.get(
        "/tubes?hue=blue&medium=oil&permanence=lasting&at_most=20&in_stock=1&maker=Corvelle"
    )
    assert listed(page)
    for tube in listed(page):
        answer = reader.client.get(f"/api/tubes/{tube}").json()
        assert (answer["medium"], answer["maker"]) == ("oil", "Corvelle")
        assert answer["price"] <= 20 and answer["stock"] > 0


def test_fading_tubes_can_be_found(reader: Visitor) -> None:
    assert "Alizarin Crimson" in reader.get("/tubes?permanence=fading&medium=oil")


@pytest.mark.slow
def test_hues_follow_the_colour(reader: Visitor) -> None:
    for hue in ("yellow", "red", "violet", "blue", "green", "brown", "black", "white", "grey"):
        assert listed(reader.get(f"/tubes?hue={hue}")), hue
    assert ROSE not in listed(reader.get("/tubes?hue=green&q=permanent+rose"))


def test_an_unknown_code_is_told_in_words(reader: Visitor) -> None:
    assert "is not a pigment" in reader.get("/tubes?code=zz9")
    assert "is no price" in reader.get("/tubes?at_most=cheap")


def test_nothing_found_says_what_to_try(reader: Visitor) -> None:
    assert "No tube is like that" in reader.get("/tubes?q=xqzwv&code=PV19")


def test_a_tube_shows_what_is_in_it(reader: Visitor) -> None:
    page = reader.get(f"/tubes/{ROSE}")
    assert '<mark class="code"' in page and "PV19</mark>" in page
    assert "25.08 EUR per 100 ml" in page
    assert "The same pigments in other tubes" in page
    assert "The same name, other pigments" in page and "PR209" in page


def test_sizes_in_fluid_ounces(reader: Visitor) -> None:
    assert "2.0 fl oz" in reader.get(f"/tubes/{ROSE}?units=us")
    assert "2.0 fl oz" in reader.get(f"/tubes/{ROSE}"), "the choice is kept"
    assert "60 ml" in reader.get(f"/tubes/{ROSE}?units=metric")


def test_a_lead_white_carries_its_caution(reader: Visitor) -> None:
    found = listed(reader.get("/tubes?code=PW1"))
    page = reader.get(f"/tubes/{found[0]}")
    assert "Cautions" in page and "ead" in page


def test_a_tube_that_declares_nothing_says_so(reader: Visitor) -> None:
    found = listed(reader.get("/tubes?q=Sild+Brown"))
    page = reader.get(f"/tubes/{found[0]}")
    assert "declares no pigments" in page


def test_a_tube_that_is_not_there(reader: Visitor) -> None:
    assert "There is no such tube" in reader.get("/tubes/never-was", status=404)


def test_a_label_is_read_with_its_doubts(reader: Visitor) -> None:
    page = reader.get("/label?text=Rose+PVI9,+PR122&name=Cadmium+Red")
    assert '<mark class="doubt"' in page and "PVI9</mark>" in page
    assert "quinacridone magenta" in page
    assert "Read a label" in reader.get("/label")


def test_label_text_is_escaped(reader: Visitor) -> None:
    page = reader.get("/label?text=%3Cscript%3Ealert(1)%3C/script%3E+PV19")
    assert "<script>alert" not in page and "&lt;script&gt;" in page


@pytest.mark.slow
def test_a_tube_goes_into_a_box(owner: Visitor) -> None:
    tube = listed(owner.get("/tubes?code=PV19"))[0]
    page = owner.follow(owner.send(f"/tubes/{tube}/box", box="Moor\r\n8"))
    assert "in the box of 8" in page
    assert tube in owner.client.get("/api/boxes").text
    owner.send(f"/tubes/{tube}/box", box="Moor\n8")
    boxes = owner.client.get("/api/boxes").json()
    assert sum(t == tube for t in boxes[1]["tubes"]) == 1, "put in twice, there once"


@pytest.mark.slow
def test_a_tube_starts_a_new_seat(owner: Visitor) -> None:
    tube = listed(owner.get("/tubes?code=PV19"))[0]
    owner.send(f"/tubes/{tube}/box", box="Moor\n", seat="13")
    assert "Seat 13" in owner.get("/class/boxes?boxes=Moor")
    assert "Say whose box" in owner.send(f"/tubes/{tube}/box", 422, box="Moor\n").text


@pytest.mark.slow
def test_a_removed_tube_can_be_brought_back(owner: Visitor) -> None:
    owned = owner.client.get("/api/boxes").text.split("stock")[0]
    tube = next(t for t in listed(owner.get("/tubes")) if t not in owned)
    page = owner.follow(owner.send(f"/tubes/{tube}/remove"))
    assert "was removed" in page and "Undo" in page
    owner.get(f"/tubes/{tube}", status=404)
    owner.send(f"/tubes/{tube}/remove", 404)
    assert tube in owner.follow(owner.send(f"/tubes/{tube}/restore"))
    owner.send(f"/tubes/{tube}/restore", 404)
