"""The first page, the demo workshop, a first catalogue."""

from __future__ import annotations

import pytest

from tests.web.conftest import Visitor


@pytest.mark.slow
def test_an_empty_store_offers_the_demo(newcomer: Visitor) -> None:
    page = newcomer.get("/")
    assert "Bring in the acrylic workshop" in page and "Bring in a list of tubes" in page
    assert newcomer.client.get("/tubes", follow_redirects=False).headers["location"] == "/"
    newcomer.send("/demo")
    assert "390 tubes" in newcomer.get("/tubes")
    assert "Heather, harebell, rowan" in newcomer.get("/class/list")
    page = newcomer.get("/")
    assert "who needs what" in page and "Sold out: what instead?" in page
    assert "Bring in the acrylic workshop" not in page
    assert "Bring in the oil workshop" in page


@pytest.mark.slow
@pytest.mark.parametrize(
    ("workshop", "title"),
    [("watercolour", "Rain over the saltmarsh"), ("oil", "Boats for the autumn show")],
)
def test_each_workshop_is_brought_in(newcomer: Visitor, workshop: str, title: str) -> None:
    answer = newcomer.send("/demo", workshop=workshop)
    assert title.split()[0] in answer.headers["location"]
    assert title in newcomer.get("/class/list")
    page = newcomer.get("/")
    assert "Bring in the acrylic workshop" in page
    assert f"Bring in the {workshop} workshop" not in page


def test_a_workshop_that_does_not_exist_is_refused(newcomer: Visitor) -> None:
    answer = newcomer.send("/demo", 422, workshop="pastel")
    assert "the demo" in answer.text and "workshops are" in answer.text


def test_the_first_page_has_a_door_for_each_and_paint(newcomer: Visitor) -> None:
    page = newcomer.get("/")
    assert page.count('class="tile"') > 30
    for door in ("At the counter", "My class", "My own box"):
        assert door in page


def test_a_catalogue_is_brought_in(newcomer: Visitor) -> None:
    assert "maker, line, grade" in newcomer.get("/tubes.import")
    sheet = "maker,name,label,price\nÅker,Rose,PV19,4.50\n".encode()
    page = newcomer.send("/tubes.import", 200, files={"file": ("shop.csv", sheet)}).text
    assert "1 tube new" in page
    assert "Åker" in newcomer.get("/tubes")


@pytest.mark.slow
def test_pages_without_anything_still_stand(newcomer: Visitor) -> None:
    for path in (
        "/side-by-side",
        "/mixing",
        "/names",
        "/measurements",
        "/class/boxes",
        "/label",
        "/api",
    ):
        newcomer.get(path)


def test_light_and_dark_are_kept(newcomer: Visitor) -> None:
    assert 'data-look="auto"' in newcomer.get("/")
    assert 'data-look="dark"' in newcomer.get("/?look=dark")
    assert 'data-look="dark"' in newcomer.get("/")
    assert 'data-look="dark"' in newcomer.get("/?look=plaid")
    assert 'data-look="light"' in newcomer.get("/?look=light")
    assert 'data-look="grey"' in newcomer.get("/?look=grey")


def test_the_book_face_is_served(newcomer: Visitor) -> None:
    for cut in ("regular", "italic", "semibold"):
        face = newcomer.client.get(f"/type/{cut}.otf")
        assert face.status_code == 200 and face.content[:4] == b"OTTO"
    assert newcomer.client.get("/type/black.otf").status_code == 404


@pytest.mark.slow
def test_style_and_scripts_are_served(newcomer: Visitor) -> None:
    for name in ("style.css", "bench.js", "label.js", "pick.js", "upload.js", "icon.svg"):
        assert newcomer.client.get(f"/static/{name}").status_code == 200


def test_a_refused_export_shows_how_its_columns_were_taken(newcomer: Visitor) -> None:
    sheet = "Hersteller;Etwas;Pigmente;Inhalt\nÅker;Rosa;PV19;XXL\nÅker;Blau;PB29;9 ml\n".encode()
    refused = newcomer.send("/tubes.import", 422, files={"file": ("shop.csv", sheet)}).text
    assert "is no size in millilitres" in refused and 'role="alert"' in refused
    assert '<option value="">size_ml' in refused and "Etwas=line" in refused
    read = newcomer.send(
        "/tubes.import", 200, files={"file": ("shop.csv", sheet)}, lenient="1", map="Etwas=name"
    ).text
    assert "1 tube new" in read and "Left out: 1 row" in read and "as you said" in read
