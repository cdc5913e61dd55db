"""`tubewise show`."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.conftest import Run

SHOP = """maker,line,grade,medium,name,label,size_ml,stock
Oakfen,Heron,artist,oil,Zinc White,PW4,37,2
Oakfen,Heron,artist,oil,Ultramarine,PB29,37,2
Oakfen,Heron,artist,oil,Alizarin Crimson,PR83,37,2
Oakfen,Heron,artist,oil,Rose,PV19 gamma,37,2
Oakfen,Heron,artist,oil,Cadmium Red,PR108,37,2
"""


def test_a_tube_is_shown_with_what_is_known_against_it_first(run: Run, tmp_path: Path) -> None:
    shop = tmp_path / "shop.csv"
    shop.write_text(SHOP, encoding="utf-8")
    ran = run("show", "Zinc White", "-c", str(shop))
    first, second = (line.rstrip() for line in ran.out.splitlines()[:2])
    assert first == "Oakfen Heron Zinc White (artist oil): PW4"
    assert second.startswith("PW4 (zinc white): Oil films of zinc white turn brittle")
    assert "dries slowly in oil" in ran.out and "Mecklenburg" in " ".join(ran.out.split())
    answer = json.loads(run("show", "Zinc White", "-c", str(shop), "--json").out)
    assert answer["lightfastness"] == "I"
    assert {trait["of"] for trait in answer["handling"]} >= {"drying", "film", "oil"}


@pytest.mark.slow
def test_exclusions_bite_at_the_prompt(run: Run, tmp_path: Path) -> None:
    shop = tmp_path / "shop.csv"
    shop.write_text(SHOP, encoding="utf-8")
    aim = ("recipe", "lab:43,54,30", "--from", str(shop), "--max-paints", "1")
    assert "Cadmium Red" in run(*aim).out
    for wish in ("Cadmium Red", "PR108", "cadmium"):
        ran = run(*aim, "--without", wish)
        assert "part Oakfen Heron Cadmium Red" not in ran.out and ran.status == 0
    ran = run(*aim, "--without", "nonsense")
    assert ran.status == 2 and "“nonsense”: no tube, pigment, name or class" in ran.err


def test_for_sale_and_a_wish_that_does_not_belong(run: Run, tmp_path: Path) -> None:
    shop = tmp_path / "shop.csv"
    shop.write_text(SHOP, encoding="utf-8")
    aim = ("recipe", "lab:28,35,12", "--from", str(shop), "--max-paints", "2")
    assert "part Oakfen Heron Alizarin Crimson" not in run(*aim, "--for", "sale").out
    assert "no purpose we know" in run(*aim, "--for", "museum").err
    ran = run(*aim, "--granulating")
    assert ran.status == 2 and "a wish for watercolour and gouache" in ran.err
