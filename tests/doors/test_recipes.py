"""Which tubes make a colour, from whichever door."""

from __future__ import annotations

from typing import Any

import pytest

from tests.doors.conftest import Doors, words_of_page
from tests.doors.workshop_files import NAME
from tubewise.advice.cards.recipe_card import recipe_card
from tubewise.advice.plain import plain
from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
from tubewise.advice.recipes.results import Recipes
from tubewise.advice.recipes.target import target
from tubewise.errors import UserError
from tubewise.sheets import recipe as card

GREEN = "lab:60,-35,20"
PALE = "lab:85,-14,-5"
MIXED_BOX = f"{NAME}\n3"
SEAT_THREE = "seat-three.csv"


def solve(doors: Doors, aim: str, medium: str = "acrylic", parts: int = 16) -> Recipes:
    box = next(b for b in doors.workshop.completed_boxes if b.seat == "3")
    at_hand = AtHand(tubes=box.tubes, shelf=doors.shelf, medium=medium)
    return recipes_from(target(aim, doors.shelf), at_hand, 4, parts)


def recipes_in(answer: Any) -> list[Any]:
    return [(r["kind"], r["words"], r["steps"], r["corrections"]) for r in answer["recipes"]]


def test_a_mixed_box_is_refused_alike_until_somebody_says_which_medium(doors: Doors) -> None:
    asked = "these tubes are acrylic and oil, which do not mix; say which medium is meant"
    with pytest.raises(UserError, match=asked):
        solve(doors, GREEN, medium="")
    assert asked in " ".join(doors.command("recipe", GREEN, "--from", SEAT_THREE, status=2).split())
    assert asked in doors.web_json("recipe", 422, target=GREEN, box=MIXED_BOX)["error"]
    assert asked in words_of_page(doors.page("/mixing", target=GREEN, box=MIXED_BOX))
    assert asked in " ".join(
        doors.command("standin", "PB29", "--from", SEAT_THREE, status=2).split()
    )
    assert asked in doors.web_json("standin", 422, tube="PB29", box=MIXED_BOX)["error"]


@pytest.mark.slow
def test_in_one_medium_every_door_mixes_alike_and_leaves_out_the_same(doors: Doors) -> None:
    answer = plain(solve(doors, GREEN))
    by_command = doors.command_json("recipe", GREEN, "--from", SEAT_THREE, "--medium", "acrylic")
    by_web = doors.web_json("recipe", target=GREEN, box=MIXED_BOX, medium="acrylic")
    assert recipes_in(by_command) == recipes_in(by_web) == recipes_in(answer)
    assert by_command["left_out"] == by_web["left_out"] == answer["left_out"]
    assert [t["why"] for t in answer["left_out"]] == [
        "oil does not mix with acrylic",
        "oil does not mix with acrylic",
        "no pigment declared",
    ]
    page = words_of_page(doors.page("/mixing", target=GREEN, box=MIXED_BOX, medium="acrylic"))
    assert "Left out, oil does not mix with acrylic: Oakfen Fenland Ultramarine" in page


def test_four_paints_in_two_parts_are_answered_by_every_door(doors: Doors) -> None:
    limits = {"max_paints": 4, "max_parts": 2}
    by_command = doors.command_json(
        "recipe", GREEN, "--from", SEAT_THREE, "--medium", "acrylic",
        "--max-paints", "4", "--max-parts", "2",
    )  # fmt: skip
    by_web = doors.web_json("recipe", target=GREEN, box=MIXED_BOX, medium="acrylic", **limits)
    expected = recipes_in(plain(solve(doors, GREEN, parts=2)))
    assert recipes_in(by_command) == recipes_in(by_web) == expected
    page = doors.page("/mixing", target=GREEN, box=MIXED_BOX, medium="acrylic", **limits)
    how_near = by_web["recipes"][0]["how_near"]
    assert how_near.casefold() in words_of_page(page).casefold()


def test_a_card_of_two_steps_prints_how_near_and_not_the_recipe_again(doors: Doors) -> None:
    answer = solve(doors, PALE)
    which = next(n for n, r in enumerate(answer.recipes, 1) if r.kind == "premixed")
    recipe = answer.recipes[which - 1]
    data = card.data(recipe_card(answer, doors.shelf, which))
    assert data["how_near"] == recipe.how_near
    assert "part" not in data["how_near"] and "CIEDE2000" in data["how_near"]
    assert data["steps"][0] == recipe.tint_first
    assert data["steps"] == list(recipe.steps)
    assert data["mends"] == [c.words for c in recipe.corrections]
    printed = doors.web_sheet(
        "recipe", target=PALE, box=MIXED_BOX, medium="acrylic", which=str(which)
    )
    assert f"This recipe: {recipe.how_near}." in printed
