"""Names are data: whatever they spell, they are printed and never obeyed."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from tests.sheets.conftest import DAY, page_count, pdf_of, shop, supply_list, text_of, tube
from tubewise.advice.cards.comparison import comparison
from tubewise.advice.cards.recipe_card import RecipeCard
from tubewise.advice.cards.shelf_labels import shelf_labels
from tubewise.advice.classroom.check import check
from tubewise.advice.classroom.handout import handout
from tubewise.advice.classroom.workshop import Workshop
from tubewise.paints.shelf import Shelf
from tubewise.sheets import class_report, compare, labels, recipe, supply
from tubewise.sheets.press import clean, shortened
from tubewise.tubes.supply import SupplyList
from tubewise.tubes.tube import Box

MARKUP = (
    "#pagebreak()",
    "*bold* _thin_",
    "$x^2$ # \\ \\u{41}",
    '"quoted" `raw` <label> @ref',
    "= Heading",
    "// gone /* gone */",
    '#read("/etc/passwd")',
    '") #panic("out',
    "https://example.invalid",
    "{{7*7}} <script>alert(1)</script>",
)


@pytest.mark.parametrize("name", MARKUP)
def test_markup_in_a_name_is_printed_as_it_stands(name: str) -> None:
    pdf = pdf_of(labels.pages, shelf_labels([tube(name, "PB29", maker="", line="")]))
    assert page_count(pdf) == 1
    # A long name may be broken into lines.
    assert name.replace(" ", "") in text_of(pdf).replace(" ", "")
    assert "/Annots" not in PdfReader(io.BytesIO(pdf)).pages[0]


def test_hostile_words_in_every_field_of_a_class_report_change_nothing() -> None:
    mean = "#pagebreak() *a* $b$ \\"
    asked = supply_list()
    asked = SupplyList(
        mean,
        tuple(replace(s, slot=f"{mean} {n}", note=mean) for n, s in enumerate(asked.slots)),
        tuple(replace(m, mix=mean, aim=mean) for m in asked.mixes),
    )
    held = [Box(mean, (tube(mean, "PV19 gamma", maker=mean),)), Box("2", ())]
    sold = [tube(mean, "PV19 gamma", extra={"shop": mean}), *shop()]
    pdf = pdf_of(class_report.pages, check(Workshop(asked, held, sold)))
    assert page_count(pdf) == 3
    assert text_of(pdf).count("#pagebreak() *a* $b$ \\") > 10
    printed = pdf_of(supply.pages, handout(Workshop(asked, catalogue=sold)))
    assert mean in text_of(printed)


def test_hostile_terms_on_cards(recipe_card: RecipeCard) -> None:
    mean = '#panic("x") *y*'
    mine = tube(mean, "PB29", maker="", line="")
    card = comparison((mine.id, "PB15:3"), Shelf([mine]))
    assert mean in text_of(pdf_of(compare.pages, card))
    renamed = replace(recipe_card, target_name=mean, words=mean)
    assert text_of(pdf_of(recipe.pages, renamed)).count(mean) == 2


@pytest.mark.parametrize(
    "name", ["אדום קדמיום", "أحمر", "镉红", "🎨 red 🟥", "e\u0301\u0301\u0301\u0301", "\U0010ffff"]
)
def test_other_scripts_do_not_stop_the_press(name: str) -> None:
    made = shelf_labels([tube(name, "PB29", maker=name)])
    assert page_count(pdf_of(labels.pages, made)) == 1
    assert len(labels.pages(made, "letter", "png", DAY)) == 1


def test_very_long_names_neither_spill_nor_push() -> None:
    long = ["Ultramarine " * 60, "Ü" * 900, "a-" * 300]
    many = [tube(name, "PB29 PV23 PG7 PR108", maker=name) for name in long] * 6
    assert page_count(pdf_of(labels.pages, shelf_labels(many))) == 1


@given(st.text(max_size=80))
@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_any_text_at_all_prints_one_label(name: str) -> None:
    made = shelf_labels([tube(name or "x", "PB29", maker=name)])
    assert page_count(pdf_of(labels.pages, made)) == 1


@given(st.text())
def test_clean_text_has_no_controls_no_turns_and_an_end(text: str) -> None:
    kept = clean(text)
    assert not any(c in kept for c in "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\0\n")
    assert len(kept.replace("\u200b", "")) <= 400
    # Lines may break at spaces, at hyphens and where a break was put in.
    assert all(len(run) < 25 for run in re.split(r"[\s\u200b-]", kept))


def test_a_direction_mark_cannot_turn_our_own_words() -> None:
    assert clean("red\u202e der\x07\n\n blue") == "red der blue"


def test_shortened_text_says_so() -> None:
    assert shortened("Permanent  Rose", 20) == "Permanent Rose"
    assert shortened("Permanent Rose", 10) == "Permanent…"
