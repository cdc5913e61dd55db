"""Colour is never the only sign: every colour on a sheet has a word or a sign beside it."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image

from tests.sheets.conftest import Press, pdf_of, text_of, text_of_page
from tubewise.advice.cards.comparison import ComparisonCard
from tubewise.advice.cards.mixing_chart import mixing_chart
from tubewise.advice.cards.recipe_card import RecipeCard
from tubewise.advice.cards.tint_ladder import tint_ladder
from tubewise.advice.classroom.check import ClassCheck
from tubewise.advice.classroom.verdicts import VERDICTS
from tubewise.advice.words.pigments import pigments_text
from tubewise.paints.shelf import Shelf
from tubewise.sheets import chart, class_report, ladder
from tubewise.sheets.press import capitalised
from tubewise.sheets.signs import SIGNS


def test_each_verdict_has_a_sign_of_its_own() -> None:
    assert set(SIGNS) == set(VERDICTS)
    assert len(set(SIGNS.values())) == len(VERDICTS)


def test_the_grid_says_every_verdict_by_its_sign(class_check: ClassCheck) -> None:
    grid = text_of_page(pdf_of(class_report.pages, class_check), 1)
    for seat in class_check.seats:
        signs = [SIGNS[slot.verdict] for slot in seat.slots]
        assert f"{seat.seat} {' '.join(signs)} " in grid
    for verdict, sign in SIGNS.items():
        assert f"{sign} {verdict}" in grid


def test_a_seats_page_says_sign_and_words(class_check: ClassCheck) -> None:
    pdf = pdf_of(class_report.pages, class_check)
    for page, seat in enumerate(class_check.seats, 2):
        words = text_of_page(pdf, page)
        assert f"Seat {seat.seat}" in words
        for slot in seat.slots:
            assert f"{SIGNS[slot.verdict]} {slot.slot}: {slot.verdict}" in words
            assert slot.do in words


def test_every_cell_of_a_chart_and_every_rung_of_a_ladder_is_named() -> None:
    made = mixing_chart(("PY3", "PB29", "PR108"), Shelf())
    words = text_of(pdf_of(chart.pages, made))
    assert all(cell.colour.name in words for row in made.cells for cell in row)
    assert all(cell.parts in words for row in made.cells for cell in row)
    steps = tint_ladder(("PV19/gamma",), Shelf())
    words = text_of(pdf_of(ladder.pages, steps))
    assert all(rung.colour.name in words for rung in steps.rungs[0])
    assert all(f"1 : {rung.white:g}" in words for rung in steps.rungs[0][1:])


def test_drawdowns_carry_letters_and_differences_words(
    comparison: ComparisonCard, sheets: dict[str, Press]
) -> None:
    words = text_of(sheets["compare"].make("a4", "pdf")[0])
    for letter, compared in zip("BC", comparison.compared, strict=True):
        assert capitalised(compared.verdict) in words
        assert compared.masstone.words_of(letter) in words
    # The strips, then the heads of the columns.
    assert "A B C" in words


@pytest.mark.slow
def test_cells_to_act_on_stand_out_once_the_colour_is_gone(class_check: ClassCheck) -> None:
    png = class_report.pages(class_check, format="png")[0]
    grey = np.asarray(Image.open(io.BytesIO(png)).convert("L"))
    # Only the filled cells of "wrong pigment" and "missing" make long runs of near-black.
    dark = (grey < 70).sum(axis=1)
    assert (dark > 400).sum() > 20


def test_a_recipes_parts_stand_in_figures_beside_their_bars(
    recipe_card: RecipeCard, sheets: dict[str, Press]
) -> None:
    words = text_of(sheets["recipe"].make("a4", "pdf")[0])
    for part, colour in zip(recipe_card.recipe.parts, recipe_card.colours, strict=True):
        assert f"{part.parts:g} {part.title} {pigments_text(part.pigments)}: {colour.name}" in words
