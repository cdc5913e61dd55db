"""What the class report, the cards and the labels say."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tests.sheets.conftest import (
    DAY,
    Press,
    page_count,
    pdf_of,
    pixels,
    text_of,
    text_of_page,
    tube,
)
from tubewise.advice.cards.comparison import comparison
from tubewise.advice.cards.recipe_card import RecipeCard
from tubewise.advice.cards.recipe_card import recipe_card as card_of
from tubewise.advice.cards.shelf_labels import shelf_labels
from tubewise.advice.cards.tint_ladder import tint_ladder
from tubewise.advice.classroom.check import ClassCheck, check
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
from tubewise.advice.recipes.results import Recipes
from tubewise.advice.recipes.target import target
from tubewise.colour.words import seen_words
from tubewise.demo import workshop
from tubewise.paints.shelf import Shelf
from tubewise.sheets import class_report, compare, labels, ladder, recipe
from tubewise.sheets.class_page import class_page
from tubewise.sheets.press import basis_words, capitalised
from tubewise.tubes.catalogue import read_boxes, read_catalogue
from tubewise.tubes.occasion import Occasion
from tubewise.tubes.supply import SupplyList, read_supply_list


def test_the_teachers_page_lists_what_to_buy_and_the_key_mixes(class_check: ClassCheck) -> None:
    words = text_of_page(pdf_of(class_report.pages, class_check), 1)
    for line in class_check.summary.shopping.lines:
        assert f"{line.count} × {line.buy.title}" in words
    for currency, total in class_check.summary.shopping.totals:
        assert f"in all {total:.2f} {currency}" in words
    for mix in class_check.summary.mixes:
        assert mix.mix in words and mix.words in words


def test_every_page_of_a_class_report_says_what_it_is_for(class_check: ClassCheck) -> None:
    headed = replace(class_check, occasion=Occasion("Heather", "6 June", "Village hall"))
    pdf = pdf_of(class_report.pages, headed)
    assert "Heather 6 June · Village hall" in text_of_page(pdf, 1)
    assert "Seat 2 Heather · 6 June · Village hall" in text_of_page(pdf, 3)
    page = class_page(headed)
    assert "<h1>Heather</h1>" in page and "6 June · Village hall" in page


def test_a_card_of_four_paints_stays_one_page() -> None:
    card = comparison(("PB29", "PB28", "PB15:3", "PB35"), Shelf(), medium="watercolour")
    for paper in ("a4", "letter"):
        assert len(compare.pages(card, paper, "svg", DAY)) == 1


def test_a_card_names_grade_and_medium() -> None:
    tubes = [tube("Rose", "PV19 gamma"), tube("Rose", "PV19 gamma", grade="student", maker="Sill")]
    words = text_of(pdf_of(compare.pages, comparison([t.id for t in tubes], Shelf(tubes))))
    assert "artist acrylic · 60 ml · 8.00 EUR" in words and "student acrylic" in words


def test_a_class_without_seats_prints_one_page() -> None:
    empty = check(Workshop(SupplyList("Nobody", ())))
    pdf = pdf_of(class_report.pages, empty)
    assert page_count(pdf) == 1
    assert "No boxes were given" in text_of(pdf)


@pytest.mark.slow
def test_seats_with_names_get_their_names_in_full_on_their_page(class_check: ClassCheck) -> None:
    name = "Wilhelmina Featherstonehaugh"
    seats = tuple(replace(s, seat=name) for s in class_check.seats)
    standings = tuple(replace(s, seat=name) for s in class_check.summary.standings)
    mixes = tuple(
        replace(m, seats=tuple(replace(s, seat=name) for s in m.seats))
        for m in class_check.summary.mixes
    )
    summary = replace(class_check.summary, standings=standings, mixes=mixes)
    pdf = pdf_of(class_report.pages, replace(class_check, seats=seats, summary=summary))
    assert "Wilhelmina Feat…" in text_of_page(pdf, 1)
    assert f"Seat {name}" in text_of_page(pdf, 2)


def paint_reaches_down(png: bytes) -> float:
    """How far down a page anything stands above its footer, 0 to 1 of what it has room for."""
    page = pixels(png)
    dark = np.nonzero((page.min(axis=2) < 200).any(axis=1))[0] / page.shape[0]
    return float(dark[dark < 0.91].max())


@pytest.mark.slow
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_overview_of_a_whole_class_leaves_no_half_empty_page(paper: str) -> None:
    folder = workshop.folder()
    answer = check(
        Workshop(
            read_supply_list(folder / "supply.csv"),
            read_boxes(folder / "boxes.csv"),
            read_catalogue(folder / "catalogue.csv"),
        )
    )
    made = class_report.pages(answer, paper, "png", DAY)
    overview = len(made) - len(answer.seats)
    assert overview in (1, 2)
    assert all(paint_reaches_down(page) > 0.7 for page in made)


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


@pytest.mark.parametrize("terms", [("PB29", "PB28"), ("PY74", "PB29", "PBr7/burnt-sienna", "PG7")])
def test_a_comparison_shows_every_paint_in_the_same_mixtures(terms: tuple[str, ...]) -> None:
    card = comparison(terms, Shelf())
    situations = [[d.situation for d in c.mixes] for c in card.compared]
    assert all(each == situations[0] for each in situations)
    words = text_of(pdf_of(compare.pages, card))
    assert all(term in words for term in terms)
    assert "thin over white" in words and "thin over black" in words
    assert "different pigments; m" in " ".join(words.split())


def test_partners_can_be_chosen() -> None:
    card = comparison(("PB29", "PB28"), Shelf(), ("PY3",))
    assert "with PY3 and white 1 : 1 : 4" in text_of(pdf_of(compare.pages, card))


def test_a_recipe_card_gives_order_corrections_lights_and_cautions(
    recipe_card: RecipeCard, sheets: dict[str, Press]
) -> None:
    words = text_of(sheets["recipe"].make("a4", "pdf")[0])
    for number, step in enumerate(recipe_card.recipe.steps, 1):
        assert f"{number} {step}" in words
    assert recipe_card.recipe.corrections
    for correction in recipe_card.recipe.corrections:
        assert correction.words in words
    assert "incandescent lamp (A)" in words
    assert f"Lightfastness {recipe_card.recipe.lightfastness}" in words
    assert "your own swatch, dry" in words
    assert f"one part more or less: {seen_words(recipe_card.recipe.sureness.one_part or 0.0)}" in (
        words
    )
    assert "Contains cadmium" in words


def test_a_recipe_card_says_what_its_paint_costs_and_how_many_tubes_there_are(
    recipe_card: RecipeCard, sheets: dict[str, Press]
) -> None:
    words = text_of(sheets["recipe"].make("a4", "pdf")[0])
    assert "The mixture costs 13.33 EUR per 100 ml" in words
    assert words.count("artist acrylic · 60 ml · 8.00 EUR · 3 in stock") == len(recipe_card.tubes)
    # Numbers are no heading; they stand below the colour's name.
    assert f"Recipe {capitalised(recipe_card.target.name)} lab:45,30,-5" in words


def test_nothing_on_a_recipe_card_is_sold_out() -> None:
    tubes = [
        tube("Titanium White", "PW6"),
        tube("Ultramarine", "PB29"),
        tube("Permanent Rose", "PV19 gamma", stock=0),
        tube("Magenta", "PR122"),
        tube("Dioxazine Violet", "PV23", stock=0),
    ]
    at_hand = AtHand(tubes=tubes, shelf=Shelf(tubes))
    found = recipes_from(target("lab:45,30,-5", at_hand.shelf), at_hand)
    words = text_of(pdf_of(recipe.pages, card_of(found, at_hand.shelf)))
    assert "Magenta" in words and "in stock" in words
    assert "Permanent Rose" not in words and "Dioxazine" not in words


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_wordy_recipe_card_stays_one_page(recipe_card: RecipeCard, paper: str) -> None:
    wordy = replace(
        recipe_card.recipe,
        corrections=recipe_card.recipe.corrections * 2,
        steps=recipe_card.recipe.steps * 2,
    )
    card = replace(recipe_card, recipe=wordy, others=(recipe_card.recipe,) * 3)
    assert len(recipe.pages(card, paper, "svg", DAY)) == 1


def test_a_recipe_in_shares_is_a_bar_without_boxes(recipes: tuple[Recipes, Shelf]) -> None:
    card = card_of(*recipes)
    parts = tuple(replace(p, parts=p.parts + 0.5) for p in card.recipe.parts)
    words = text_of(pdf_of(recipe.pages, replace(card, recipe=replace(card.recipe, parts=parts))))
    assert f"{parts[0].parts:g} {parts[0].title}" in words


def test_a_tube_alone_needs_no_moves() -> None:
    tubes = [tube("Ultramarine", "PB29")]
    from tubewise.advice.recipes.recipe import recipe as solve

    shelf = Shelf(tubes)
    paint = shelf.tube(tubes[0])
    assert paint is not None
    card = card_of(solve(target("PB29", shelf), [paint]), shelf)
    words = text_of(pdf_of(recipe.pages, card))
    assert "straight from the tube" in words
    assert "What to look out for" not in words and "slip" not in words


def test_a_label_gives_price_pigments_lightfastness_and_caution(sheets: dict[str, Press]) -> None:
    words = text_of(sheets["labels"].make("a4", "pdf")[0])
    assert "PR108 8.00 EUR Cadmium Red 13.33 EUR per 100 ml" in words
    assert "cadmium: read the tube’s label" in words
    assert "lightfastness I, excellent · strip modelled" in words
    assert "Oakfen Fenland · artist acrylic · 60 ml" in words


def test_a_labels_code_is_large_and_its_form_stands_small() -> None:
    made = shelf_labels(
        [tube("Rose", "PV19 gamma"), tube("Earth", "PR101"), tube("Green", "PG7, PY3")]
    )
    rose, unsaid, green = labels.data(made)["labels"]
    assert (rose["codes"], rose["forms"]) == ("PV19", "PV19/gamma")
    assert (unsaid["codes"], unsaid["forms"]) == ("PR101", "PR101 (form not said)")
    assert (green["codes"], green["forms"]) == ("PG7 + PY3", "")


def test_a_tube_without_a_size_has_no_price_for_100_ml() -> None:
    (label,) = labels.data(shelf_labels([tube("Rose", "PV19", size_ml=None)]))["labels"]
    assert (label["price"], label["unit-price"]) == ("8.00 EUR", "")


def test_a_label_of_a_tube_that_declares_nothing_says_so() -> None:
    words = text_of(pdf_of(labels.pages, shelf_labels([tube("Permanent Rose", "")])))
    assert "no pigment declared" in words and "ask the maker" in words


def test_a_sheet_says_modelled_unless_everything_on_it_was_measured() -> None:
    made = tint_ladder(("PB29", "PR108"), Shelf())
    assert "modelled" in text_of(pdf_of(ladder.pages, made))
    half = replace(made, paints=(replace(made.paints[0], basis="measured"), made.paints[1]))
    assert basis_words("modelled") in text_of(pdf_of(ladder.pages, half))
    whole = replace(made, paints=tuple(replace(p, basis="measured") for p in made.paints))
    words = text_of(pdf_of(ladder.pages, whole))
    assert basis_words("measured") in words
    assert "not measured" not in words
