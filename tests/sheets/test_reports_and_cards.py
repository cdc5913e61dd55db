"""What the class report, the cards and the labels say."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.sheets.conftest import DAY, Press, page_count, shop, text_of, text_of_page, tube
from tubewise.advice.classroom.check import ClassCheck, check
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.recipes.results import Recipes
from tubewise.colour.words import seen_words
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.sheets import class_report, compare, labels, ladder, recipe
from tubewise.sheets.press import basis_words
from tubewise.sheets.recipe import RecipeCard
from tubewise.tubes.supply import SupplyList


def test_the_teachers_page_lists_what_to_buy_and_the_key_mixes(class_check: ClassCheck) -> None:
    words = text_of_page(class_report.sheet(class_check, on=DAY), 1)
    for line in class_check.summary.shopping.lines:
        assert f"{line.count} × {line.buy.title}" in words
    for currency, total in class_check.summary.shopping.totals:
        assert f"in all {total:.2f} {currency}" in words
    for mix in class_check.summary.mixes:
        assert mix.mix in words and mix.words in words


def test_a_class_without_seats_prints_one_page() -> None:
    empty = check(Workshop(SupplyList("Nobody", ())))
    pdf = class_report.sheet(empty, on=DAY)
    assert page_count(pdf) == 1
    assert "No boxes were given" in text_of(pdf)


def test_seats_with_names_get_their_names_in_full_on_their_page(class_check: ClassCheck) -> None:
    name = "Wilhelmina Featherstonehaugh"
    seats = tuple(replace(s, seat=name) for s in class_check.seats)
    standings = tuple(replace(s, seat=name) for s in class_check.summary.standings)
    mixes = tuple(
        replace(m, seats=tuple(replace(s, seat=name) for s in m.seats))
        for m in class_check.summary.mixes
    )
    summary = replace(class_check.summary, standings=standings, mixes=mixes)
    pdf = class_report.sheet(replace(class_check, seats=seats, summary=summary), on=DAY)
    assert "Wilhelmina Feat…" in text_of_page(pdf, 1)
    assert f"Seat {name}" in text_of_page(pdf, 2)


def test_a_crowded_seat_still_has_one_page(class_check: ClassCheck) -> None:
    crowded = replace(
        class_check.seats[2],
        slots=tuple(
            replace(s, reasons=("a reason of some length that needs most of a line",) * 6)
            for s in class_check.seats[2].slots * 5
        ),
    )
    whole = class_check.summary
    summary = replace(whole, standings=whole.standings[2:3], mixes=())
    report = ClassCheck(workshop="Crowded", seats=(crowded,), summary=summary)
    for paper in ("a4", "letter"):
        assert len(class_report.pages(report, paper, "svg", DAY)) == 2


def test_a_comparison_takes_two_to_four_tubes_each_once() -> None:
    shelf = Shelf()
    with pytest.raises(UserError, match="2 to 4"):
        compare.card(("PB29",), shelf)
    with pytest.raises(UserError, match="2 to 4"):
        compare.card(("PB29", "PB28", "PB27", "PB15:3", "PB15:1"), shelf)
    with pytest.raises(UserError, match="once"):
        compare.card(("PB29", "PB29"), shelf)


@pytest.mark.parametrize("terms", [("PB29", "PB28"), ("PY74", "PB29", "PBr7/burnt-sienna", "PG7")])
def test_a_comparison_shows_every_paint_in_the_same_mixtures(terms: tuple[str, ...]) -> None:
    card = compare.card(terms, Shelf())
    situations = [[d.situation for d in c.mixes] for c in card.compared]
    assert all(each == situations[0] for each in situations)
    words = text_of(compare.sheet(card, on=DAY))
    assert all(term in words for term in terms)


def test_partners_can_be_chosen() -> None:
    card = compare.card(("PB29", "PB28"), Shelf(), ("PY3",))
    assert "with PY3 and white 1 : 1 : 4" in text_of(compare.sheet(card, on=DAY))


def test_a_recipe_card_gives_order_corrections_lights_and_cautions(
    recipe_card: RecipeCard, sheets: dict[str, Press]
) -> None:
    words = text_of(sheets["recipe"].make("a4", "pdf")[0])
    n = len(recipe_card.recipe.parts)
    for number, step in enumerate(recipe_card.recipe.steps[:n], 1):
        assert f"{number} {step}" in words
    for move in recipe_card.recipe.steps[n:]:
        assert move in words
    assert "incandescent lamp (A)" in words
    assert f"Lightfastness {recipe_card.recipe.lightfastness}" in words
    assert "your own swatch, dry" in words
    assert f"one part more or less: {seen_words(recipe_card.recipe.sureness.one_part or 0.0)}" in (
        words
    )
    assert "Contains cadmium" in words


def test_a_recipe_in_shares_is_a_bar_without_boxes(recipes: tuple[Recipes, Shelf]) -> None:
    card = recipe.card(*recipes)
    parts = tuple(replace(p, parts=p.parts + 0.5) for p in card.recipe.parts)
    words = text_of(recipe.sheet(replace(card, recipe=replace(card.recipe, parts=parts)), on=DAY))
    assert f"{parts[0].parts:g} {parts[0].title}" in words


def test_a_tube_alone_needs_no_moves() -> None:
    tubes = [tube("Ultramarine", "PB29")]
    from tubewise.advice.recipes.recipe import recipe as solve
    from tubewise.advice.recipes.target import target

    shelf = Shelf(tubes)
    paint = shelf.tube(tubes[0])
    assert paint is not None
    card = recipe.card(solve(target("PB29", shelf), [paint]), shelf)
    words = text_of(recipe.sheet(card, on=DAY))
    assert "straight from the tube" in words
    assert "What to look out for" not in words and "slip" not in words


def test_only_recipes_that_were_found_can_be_printed(recipes: tuple[Recipes, Shelf]) -> None:
    for which in (0, len(recipes[0].recipes) + 1):
        with pytest.raises(UserError, match="were found"):
            recipe.card(*recipes, which)


def test_a_label_gives_price_pigments_lightfastness_and_caution(sheets: dict[str, Press]) -> None:
    words = text_of(sheets["labels"].make("a4", "pdf")[0])
    assert "Cadmium Red 8.00 EUR PR108" in words
    assert "cadmium: read the tube’s label" in words
    assert "lightfastness: I, excellent · strip modelled" in words
    assert "acrylic · artist · 60 ml" in words


def test_a_label_of_a_tube_that_declares_nothing_says_so() -> None:
    words = text_of(labels.sheet(labels.labels([tube("Permanent Rose", "")]), on=DAY))
    assert "no pigment declared" in words and "ask the maker" in words


def test_labels_need_tubes_and_tell_their_progress() -> None:
    with pytest.raises(UserError, match="no tubes"):
        labels.labels([])
    told: list[int] = []
    labels.labels(shop()[:3], progress=lambda done, total: told.append(done))
    assert told == [1, 2, 3]


def test_a_sheet_says_modelled_unless_everything_on_it_was_measured() -> None:
    made = ladder.ladder(("PB29", "PR108"), Shelf())
    assert "modelled" in text_of(ladder.sheet(made, on=DAY))
    half = replace(made, paints=(replace(made.paints[0], basis="measured"), made.paints[1]))
    assert basis_words("modelled") in text_of(ladder.sheet(half, on=DAY))
    whole = replace(made, paints=tuple(replace(p, basis="measured") for p in made.paints))
    words = text_of(ladder.sheet(whole, on=DAY))
    assert basis_words("measured") in words
    assert "not measured" not in words
