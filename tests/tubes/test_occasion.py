"""Title, date and place of a workshop: above a list's header, optional, kept on every way."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tubewise.store.store import Store
from tubewise.tubes.occasion import Occasion, occasion
from tubewise.tubes.supply import read_supply_list, write_supply_list

SLOTS = "slot,accept,medium\nRose,PV19/gamma,acrylic\n"
MOOR = Occasion("Heath in June", "6 to 8 June", "Village hall, Moor Lane")


def read(tmp_path: Path, text: str) -> Occasion:
    path = tmp_path / "heath.csv"
    path.write_text(text, encoding="utf-8")
    supply = read_supply_list(path)
    assert [slot.slot for slot in supply.slots] == ["Rose"] and supply.name == "heath"
    return supply.occasion


def test_lines_above_the_header_say_when_and_where(tmp_path: Path) -> None:
    lines = 'title,Heath in June\ndate,6 to 8 June\nplace,"Village hall, Moor Lane"\n\n'
    assert read(tmp_path, lines + SLOTS) == MOOR


@pytest.mark.parametrize(
    "line", ["Place: Village hall", "PLACE;Village hall", "Ort;Village hall", "where :Village hall"]
)
def test_they_are_read_as_people_write_them(line: str, tmp_path: Path) -> None:
    assert read(tmp_path, f"{line}\n{SLOTS.replace(',', ';')}") == Occasion(place="Village hall")


@pytest.mark.parametrize("above", ["", "Bring an apron\n", "date\n", "title,\n"])
def test_a_list_that_says_nothing_of_it_is_a_list_all_the_same(above: str, tmp_path: Path) -> None:
    assert read(tmp_path, above + SLOTS) == Occasion()


@pytest.mark.parametrize("ending", ["csv", "xlsx"])
@pytest.mark.parametrize("known", [MOOR, Occasion(place="=1+1"), Occasion()])
def test_what_is_written_is_read_again(ending: str, known: Occasion, tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text(SLOTS)
    supply = replace(read_supply_list(tmp_path / "list.csv"), occasion=known)
    write_supply_list(tmp_path / f"again.{ending}", supply)
    again = read_supply_list(tmp_path / f"again.{ending}")
    assert replace(again, name=supply.name) == supply


def test_the_store_keeps_it(tmp_path: Path) -> None:
    (tmp_path / "list.csv").write_text(SLOTS)
    plain = read_supply_list(tmp_path / "list.csv")
    with Store(tmp_path / "shop.sqlite3") as store:
        for supply in (plain, replace(plain, occasion=MOOR), plain):
            store.import_supply_list(supply)
            assert store.supply_list("list") == supply


def test_what_is_typed_is_made_plain() -> None:
    assert occasion("  Heath \n in June ", "x" * 300) == Occasion("Heath in June", "x" * 200)
