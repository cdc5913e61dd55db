"""Pigments stand everywhere as the label shows them, and what it leaves open is said."""

from __future__ import annotations

from tests.doors.conftest import Doors, words_of_page
from tubewise.advice.cards.comparison import comparison
from tubewise.advice.cards.shelf_labels import shelf_labels
from tubewise.sheets import compare, labels

BARE = "millrace-weir-acrylic-quinacridone-60ml"
SHOWN = "PV19 (form not said)"


def test_a_shelf_label_prints_its_own_code(doors: Doors) -> None:
    (label,) = labels.data(shelf_labels([doors.shelf.tubes[BARE]], doors.shelf))["labels"]
    assert (label["codes"], label["forms"]) == ("PV19", SHOWN)
    for printed in (
        doors.printed("labels", BARE, "--catalogue", "catalogue.csv"),
        doors.web_sheet("shelf-labels", t=BARE),
    ):
        assert SHOWN in printed and "PV19/gamma" not in printed


def test_a_comparison_card_prints_its_own_code(doors: Doors) -> None:
    card = compare.data(comparison((BARE, "PR209"), doors.shelf))
    assert card["paints"][0]["pigments"] == SHOWN


def test_a_tube_is_shown_alike_on_its_page_in_lists_and_by_command(doors: Doors) -> None:
    for path, query in (
        (f"/tubes/{BARE}", {}),
        ("/tubes", {"q": "Quinacridone", "maker": "Millrace"}),
        ("/side-by-side", {"t": [BARE, "PR209"]}),
    ):
        assert SHOWN in words_of_page(doors.page(path, **query)), path
    assert SHOWN in doors.command("find", "--code", "PV19", "--maker", "Millrace")


def test_json_gives_the_codes_the_label_shows(doors: Doors) -> None:
    assert doors.web_json(f"tubes/{BARE}")["pigments"] == ["PV19"]
    (found,) = doors.web_json("tubes", q="Quinacridone", maker="Millrace")["tubes"]
    assert found["pigments"] == ["PV19"]
