"""Small results to print, and how a finished sheet is read back."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date

import numpy as np
import pytest
from PIL import Image
from pypdf import PdfReader

from tests.refs import parts, refs
from tubewise.advice.cards.comparison import ComparisonCard
from tubewise.advice.cards.comparison import comparison as card_beside
from tubewise.advice.cards.mixing_chart import mixing_chart
from tubewise.advice.cards.recipe_card import RecipeCard
from tubewise.advice.cards.recipe_card import recipe_card as card_of
from tubewise.advice.cards.shelf_labels import shelf_labels
from tubewise.advice.cards.tint_ladder import tint_ladder
from tubewise.advice.classroom.check import ClassCheck, check
from tubewise.advice.classroom.handout import Handout, handout
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.recipes.recipe import recipe as solve
from tubewise.advice.recipes.results import Recipes
from tubewise.advice.recipes.target import target
from tubewise.paints.shelf import Shelf
from tubewise.sheets import chart, class_report, compare, labels, ladder, recipe, supply
from tubewise.tubes.supply import KeyMix, Slot, SupplyList
from tubewise.tubes.tube import Box, Tube

DAY = date(2026, 5, 4)


def tube(name: str, label: str, **more: object) -> Tube:
    """An acrylic artist's tube of an invented maker."""
    known = {
        "maker": "Oakfen",
        "line": "Fenland",
        "grade": "artist",
        "medium": "acrylic",
        "size_ml": 60.0,
        "price": 8.0,
        "currency": "EUR",
        "stock": 3,
    }
    return Tube(name=name, label=label, **{**known, **more})  # type: ignore[arg-type]


def text_of(pdf: bytes) -> str:
    """All words of a PDF, runs of space made one."""
    return " ".join(" ".join(p.extract_text() for p in PdfReader(io.BytesIO(pdf)).pages).split())


def text_of_page(pdf: bytes, page: int) -> str:
    """The words of one page, from 1."""
    return " ".join(PdfReader(io.BytesIO(pdf)).pages[page - 1].extract_text().split())


def page_count(pdf: bytes) -> int:
    """How many pages a PDF has."""
    return len(PdfReader(io.BytesIO(pdf)).pages)


def pdf_of(pages: Callable[..., tuple[bytes, ...]], answer: object) -> bytes:
    """An answer set by a sheet's `pages`, as one PDF on A4."""
    (pdf,) = pages(answer, "a4", "pdf", DAY)
    return pdf


def pixels(png: bytes) -> np.ndarray[tuple[int, int, int], np.dtype[np.uint8]]:
    """A PNG as an array (rows, columns, 3)."""
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB"))


def supply_list() -> SupplyList:
    """Two slots and the mix that needs both."""
    return SupplyList(
        "Heath in June",
        (
            Slot("Rose", (refs("PV19/gamma"),), "acrylic", 30.0, "the red of the heather"),
            Slot("Cadmium red", (refs("PR108"),), "acrylic", 20.0),
        ),
        (KeyMix("Heather", parts(("PV19/gamma", 1), ("PB29", 1), ("PW6", 4)), "rosy violet"),),
    )


def shop() -> list[Tube]:
    """A shop that sells the right thing, the wrong thing under its name, and a near thing."""
    return [
        tube("Permanent Rose", "PV19 gamma"),
        tube("Cadmium Red", "PR108"),
        tube("Cadmium Red Hue", "PR112", maker="Sillmere"),
        tube("Quinacridone", "PV19", maker="Sillmere"),
        tube("Ruby", "PV19 gamma, PW6", maker="Sillmere", swatch_lab=(37.6, 48.3, 18.2)),
        tube("Permanent Rose", "", maker="Gutterby"),
        tube("Oil Rose", "PV19 gamma", medium="oil"),
    ]


@pytest.fixture(scope="session")
def class_check() -> ClassCheck:
    """Four seats: right, a code without its form, a hue paint, nothing at all."""
    boxes = [
        Box("1", (tube("Permanent Rose", "PV19 gamma"),)),
        Box("2", (tube("Quinacridone", "PV19"),)),
        Box("3", (tube("Cadmium Red Hue", "PR112"),)),
        Box("4", ()),
    ]
    return check(Workshop(supply_list(), boxes, shop()))


@pytest.fixture(scope="session")
def hand() -> Handout:
    """The hand-out of the small list."""
    return handout(Workshop(supply_list(), catalogue=shop()))


@pytest.fixture(scope="session")
def shelf() -> Shelf:
    """The shop's tubes."""
    return Shelf(shop())


@pytest.fixture(scope="session")
def comparison(shelf: Shelf) -> ComparisonCard:
    """A cadmium beside two that pass for it."""
    return card_beside(("PR108", "PR112", "PV19/gamma"), shelf)


@pytest.fixture(scope="session")
def recipes() -> tuple[Recipes, Shelf]:
    """A dull violet from three tubes, and where they stand."""
    tubes = [tube("Titanium White", "PW6"), tube("Ultramarine", "PB29"), shop()[1]]
    own = Shelf(tubes)
    paints = [paint for paint in map(own.tube, tubes) if paint is not None]
    return solve(target("lab:45,30,-5", own), paints), own


@pytest.fixture(scope="session")
def recipe_card(recipes: tuple[Recipes, Shelf]) -> RecipeCard:
    """The best of the recipes."""
    return card_of(*recipes)


@dataclass(frozen=True, slots=True)
class Press:
    """One kind of sheet: `make` prints it for a paper and format, `pages` is how many it has."""

    name: str
    make: Callable[[str, str], tuple[bytes, ...]]
    pages: int


@pytest.fixture(scope="session")
def sheets(
    class_check: ClassCheck,
    hand: Handout,
    comparison: ComparisonCard,
    recipe_card: RecipeCard,
    shelf: Shelf,
) -> dict[str, Press]:
    """Every sheet there is."""
    charted = mixing_chart(("PY3", "PB29", "PR108"), shelf)
    laddered = tint_ladder(("PB29", "PR108"), shelf)
    labelled = shelf_labels(shop(), shelf)
    made = [
        Press("supply", lambda p, f: supply.pages(hand, p, f, DAY), 1),
        Press("class", lambda p, f: class_report.pages(class_check, p, f, DAY), 5),
        Press("compare", lambda p, f: compare.pages(comparison, p, f, DAY), 1),
        Press("recipe", lambda p, f: recipe.pages(recipe_card, p, f, DAY), 1),
        Press("chart", lambda p, f: chart.pages(charted, p, f, DAY), 1),
        Press("ladder", lambda p, f: ladder.pages(laddered, p, f, DAY), 1),
        Press("labels", lambda p, f: labels.pages(labelled, p, f, DAY), 1),
    ]
    return {press.name: press for press in made}


NAMES = ("supply", "class", "compare", "recipe", "chart", "ladder", "labels")
