"""Mixing: recipes from a box."""

from __future__ import annotations

from pathlib import Path
from urllib.parse import quote, urlencode

import pytest

from tests.web.conftest import Visitor

BOX = quote("Moor\n1")


def test_an_empty_page_offers_the_boxes(reader: Visitor) -> None:
    page = reader.get("/mixing")
    assert "seat 1, Moor" in page and "in stock: artist acrylic" in page


def test_a_munsell_colour_from_a_box(reader: Visitor) -> None:
    page = reader.get(f"/mixing?target=munsell:5P+5/6&box={BOX}&max_paints=3")
    assert "To the bench" in page and "Under other lights" in page
    assert "Permanence" in page and "start with" in page


def test_a_tube_is_not_mixed_from_itself(reader: Visitor) -> None:
    rose = "thornquay-wherry-acrylic-permanent-rose-60ml"
    answer = reader.client.get(f"/api/recipe?target={rose}&box={BOX}&max_paints=2").json()
    assert all(rose != p["tube"] for r in answer["recipes"] for p in r["parts"])


def test_a_target_nobody_understands(reader: Visitor) -> None:
    assert 'role="alert"' in reader.get(f"/mixing?target=lab:x&box={BOX}")
    assert "no such box" in reader.get("/mixing?target=PB29&box=nobody", status=422)


def test_a_target_never_opens_a_file(
    reader: Visitor, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    spectrum = tmp_path / "spectrum.csv"
    spectrum.write_text("\n".join(f"{nm},0.5" for nm in range(380, 740, 10)), encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    for name in ("spectrum.csv", str(spectrum)):
        assert 'role="alert"' in reader.get(f"/mixing?target={quote(name)}&box={BOX}")
        assert (
            reader.client.get("/api/bench", params={"part": "PW6=1", "target": name}).status_code
            == 422
        )


def test_without_tubes_there_is_nothing_to_mix(newcomer: Visitor) -> None:
    assert "nothing to mix from yet" in newcomer.get("/mixing?target=PB29")


@pytest.mark.slow
def test_a_pasted_spectrum_is_a_target(reader: Visitor) -> None:
    rows = "\n".join(f"{nm}, {30 + (nm > 600) * 20}" for nm in range(380, 740, 10))
    page = reader.get(f"/mixing?spectrum={quote(rows)}&box={BOX}&max_paints=2")
    assert "the measured spectrum" in page and "To the bench" in page
    assert "380,30\n390,30" in page
    target = quote("spectrum:" + rows.replace(", ", ",").replace("\n", " "))
    assert "CIEDE2000" in reader.get(f"/mixing/bench?target={target}&p=PW6=1")
    bad = reader.get(f"/mixing?spectrum={quote('400, red')}&box={BOX}")
    assert 'role="alert"' in bad and "spectrum.csv" not in bad


def test_for_sale_is_asked_on_the_page_and_over_json_alike(reader: Visitor) -> None:
    asked = f"target=munsell:5P+5/6&box={BOX}&max_paints=3"
    answer = reader.client.get(f"/api/recipe?{asked}&for=sale").json()
    assert answer["recipes"]
    assert all(r["lightfastness"] in ("I", "II") for r in answer["recipes"])
    page = reader.get(f"/mixing?{asked}&for=sale")
    assert '<option value="sale" selected>' in page
    assert "is no purpose we know" in reader.get(f"/mixing?{asked}&for=fun", status=422)
    assert reader.client.get("/api/standin?tube=PR122&for=fun").status_code == 422


@pytest.mark.slow
def test_amounts_are_said_for_each_recipe_and_an_empty_field_asks_for_none(reader: Visitor) -> None:
    words = {"target": "munsell:5P 5/6", "box": "Moor\n1", "seats": "", "make": ""}
    plain = reader.get(f"/mixing?{urlencode(words)}")
    assert "Find parts" in plain and "paint for" not in plain
    made = reader.get(f"/mixing?{urlencode(words | {'seats': '12', 'make': '30ml'})}")
    assert "360 ml (12 seats, 30 ml each): " in made
    assert "such as 30 ml" in reader.get(f"/mixing?{urlencode(words | {'make': 'some'})}")
