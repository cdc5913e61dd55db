"""`tubewise sheet …`: results as printed sheets."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, TypeVar

import typer

from tubewise.cli.options import (
    Catalogue,
    ForSeats,
    From,
    Make,
    Medium,
    OnlyMedium,
    PurposeText,
    Seat,
    Shop,
)
from tubewise.cli.question import answering
from tubewise.cli.solving import MixQuestion, solved

if TYPE_CHECKING:
    from tubewise.tubes.supply import SupplyList

T = TypeVar("T")
P = TypeVar("P", bound="Printing")
app = typer.Typer(
    help="Print hand-outs, reports, cards, charts and labels.",
    no_args_is_help=True,
    rich_markup_mode=None,
)

Out = Annotated[
    Path | None,
    typer.Option(
        "--out",
        "-o",
        metavar="FILE",
        help="Where to write; else the sheet's name here. Pages of SVG and PNG are numbered.",
    ),
]
Paper = Annotated[str, typer.Option("--paper", help="a4 or letter.")]
Format = Annotated[
    str, typer.Option("--format", help="pdf, svg or png; else what --out ends in, else pdf.")
]
Terms = Annotated[list[str], typer.Argument(metavar="TERM…", help="Pigments or tubes' ids.")]
White = Annotated[
    str,
    typer.Option(
        "--white",
        metavar="TERM",
        help="The white that lightens; else the medium's own, in watercolour water.",
    ),
]
List = Annotated[Path, typer.Argument(metavar="LIST", help="The supply list (CSV or XLSX).")]
Boxes = Annotated[Path, typer.Option("--boxes", metavar="FILE", help="The seats' boxes.")]


@dataclass(frozen=True, kw_only=True)
class Printing:
    """What every sheet is asked: the tubes it may name, where to write, on what paper."""

    catalogue: Catalogue = None
    out: Out = None
    paper: Paper = "a4"
    format: Format = ""

    def print(
        self, pages: Callable[[T, str, str], tuple[bytes, ...]], answer: T, name: str
    ) -> None:
        """Set an answer's pages and write them; `name` is the file's where none was given."""
        from tubewise.sheets.files import wanted_format, write_pages

        kind = wanted_format(self.out, self.format)
        finished = pages(answer, self.paper, kind)
        for path in write_pages(finished, self.out or Path(f"{name}.{kind}")):
            print(f"Written: {path}")


def _sheet(name: str, question: type[P]) -> Callable[[Callable[[P], None]], Callable[[P], None]]:
    """Register a sheet; a paper or format nobody knows is refused before any work is done."""

    def register(answer: Callable[[P], None]) -> Callable[[P], None]:
        @wraps(answer)
        def checked(question: P) -> None:
            from tubewise.sheets.files import wanted_format
            from tubewise.sheets.press import printable

            printable(question.paper, wanted_format(question.out, question.format))
            answer(question)

        app.command(name)(answering(question, checked))
        return answer

    return register


@dataclass(frozen=True, kw_only=True)
class ClassSheet(Printing):
    """What sheets for a class are asked besides: what stands in their heading."""

    title: Annotated[str, typer.Option("--title", help="The workshop's title.")] = ""
    date: Annotated[str, typer.Option("--date", help="When it is, as the sheet should say it.")] = (
        ""
    )
    place: Annotated[str, typer.Option("--place", help="Where it is.")] = ""

    def listed_as_headed(self, listed: Path) -> SupplyList:
        """The supply list; what is said here stands before what its file says."""
        from tubewise.tubes.occasion import occasion
        from tubewise.tubes.supply import read_supply_list

        supply = read_supply_list(listed)
        own = dict(occasion(self.title, self.date, self.place).lines)
        return replace(supply, occasion=replace(supply.occasion, **own))


@dataclass(frozen=True, kw_only=True)
class SupplySheet(ClassSheet):
    """What the hand-out of a supply list is asked."""

    listed: List
    for_: PurposeText = ""


@_sheet("supply", SupplySheet)
def supply(question: SupplySheet) -> None:
    """A hand-out of a supply list: what to look for, what stands in, which names mislead."""
    from tubewise.advice.classroom.handout import handout
    from tubewise.advice.classroom.workshop import Workshop
    from tubewise.cli import show
    from tubewise.cli.source import catalogue_of, kept_measurements
    from tubewise.pigments.purpose import purpose_typed
    from tubewise.sheets.supply import pages

    workshop = Workshop(
        question.listed_as_headed(question.listed),
        catalogue=catalogue_of(question.catalogue),
        measurements=kept_measurements(),
        purpose=purpose_typed(question.for_),
    )
    with show.progress("looking through the catalogue") as step:
        answer = handout(workshop, step)
    question.print(pages, answer, "supply-list")


@dataclass(frozen=True, kw_only=True)
class ClassReport(ClassSheet):
    """What the class report is asked."""

    listed: List
    boxes: Boxes
    for_: PurposeText = ""


@_sheet("class", ClassReport)
def class_(question: ClassReport) -> None:
    """The class report: a grid for the teacher, then one page a seat."""
    from tubewise.advice.classroom.check import check
    from tubewise.advice.classroom.workshop import Workshop
    from tubewise.cli import show
    from tubewise.cli.source import catalogue_of, kept_measurements
    from tubewise.pigments.purpose import purpose_typed
    from tubewise.sheets.class_report import pages
    from tubewise.tubes.catalogue import read_boxes

    workshop = Workshop(
        question.listed_as_headed(question.listed),
        read_boxes(question.boxes),
        catalogue_of(question.catalogue),
        kept_measurements(),
        purpose_typed(question.for_),
    )
    show.compile_search()
    with show.progress("checking seats") as step:
        answer = check(workshop, step)
    question.print(pages, answer, "class-report")


@dataclass(frozen=True, kw_only=True)
class ComparisonSheet(Printing):
    """What the card for the counter is asked."""

    terms: Terms
    with_: Annotated[
        list[str] | None,
        typer.Option("--with", metavar="C", help="A partner to mix all with; may be repeated."),
    ] = None
    medium: Medium = ""
    for_: PurposeText = ""


@_sheet("compare", ComparisonSheet)
def compare(question: ComparisonSheet) -> None:
    """A card for the counter: two to four tubes side by side."""
    from tubewise.advice.cards.comparison import comparison
    from tubewise.cli.source import shelf_of
    from tubewise.pigments.purpose import purpose_typed
    from tubewise.sheets.compare import pages

    partners = tuple(question.with_ or ())
    shelf = shelf_of((*question.terms, *partners), question.catalogue)
    purpose = purpose_typed(question.for_)
    card = comparison(question.terms, shelf, partners, question.medium, purpose)
    question.print(pages, card, "comparison")


@dataclass(frozen=True, kw_only=True)
class RecipeCard(MixQuestion, Printing):
    """What the recipe card is asked."""

    target: Annotated[
        str,
        typer.Argument(
            metavar="TARGET",
            help="A tube, lab:L,a,b, #rrggbb, munsell:5R 4/12 or a spectrum file.",
        ),
    ]
    which: Annotated[int, typer.Option(help="Which of the recipes found, best first.", min=1)] = 1
    for_: PurposeText = ""
    make: Make = ""
    for_seats: ForSeats = 0


@_sheet("recipe", RecipeCard)
def recipe(question: RecipeCard) -> None:
    """A recipe card, with a blank box for a swatch of your own."""
    from tubewise.advice.cards.recipe_card import recipe_card
    from tubewise.advice.recipes.quantity import in_quantities, wanted
    from tubewise.advice.recipes.wishes import Wishes
    from tubewise.cli import show
    from tubewise.pigments.purpose import purpose_typed
    from tubewise.sheets.recipe import pages

    want = wanted(question.make, question.for_seats)
    show.compile_search()
    wishes = Wishes(purpose=purpose_typed(question.for_))
    answer, shelf = solved(question.target, question, wishes)
    answer = in_quantities(answer, want, shelf.tubes)
    question.print(pages, recipe_card(answer, shelf, question.which), "recipe")


@dataclass(frozen=True, kw_only=True)
class WithWhite(Printing):
    """What a chart and a ladder are asked: paints, and the white that lightens them."""

    terms: Terms
    white: White = ""
    medium: Medium = ""


@_sheet("chart", WithWhite)
def chart(question: WithWhite) -> None:
    """A mixing chart at true size, with cells to paint."""
    from tubewise.advice.cards.mixing_chart import mixing_chart
    from tubewise.cli.source import shelf_of
    from tubewise.sheets.chart import pages

    shelf = shelf_of((*question.terms, *filter(None, [question.white])), question.catalogue)
    question.print(
        pages, mixing_chart(question.terms, shelf, question.white, question.medium), "mixing-chart"
    )


@_sheet("ladder", WithWhite)
def ladder(question: WithWhite) -> None:
    """Tint ladders at true size, with cells to paint."""
    from tubewise.advice.cards.tint_ladder import tint_ladder
    from tubewise.cli.source import shelf_of
    from tubewise.sheets.ladder import pages

    shelf = shelf_of((*question.terms, *filter(None, [question.white])), question.catalogue)
    question.print(
        pages, tint_ladder(question.terms, shelf, question.white, question.medium), "tint-ladder"
    )


@dataclass(frozen=True, kw_only=True)
class ShelfLabels(Printing):
    """What shelf labels are asked."""

    tubes: Annotated[
        list[str] | None,
        typer.Argument(metavar="TUBE…", help="Tubes' ids or names; else the whole catalogue."),
    ] = None


@_sheet("labels", ShelfLabels)
def labels(question: ShelfLabels) -> None:
    """Shelf labels to cut out."""
    from tubewise.advice.cards.shelf_labels import shelf_labels
    from tubewise.cli import show
    from tubewise.cli.source import catalogue_of, kept_measurements, tube_named
    from tubewise.paints.shelf import Shelf
    from tubewise.sheets.labels import pages

    tubes = catalogue_of(question.catalogue)
    chosen = [tube_named(name, tubes) for name in question.tubes or ()] or tubes
    with show.progress("drawing strips") as step:
        answer = shelf_labels(chosen, Shelf(tubes, kept_measurements()), step)
    question.print(pages, answer, "shelf-labels")


@dataclass(frozen=True, kw_only=True)
class PaletteCard(Printing):
    """What the palette card is asked."""

    from_: From = None
    catalogue: Shop = None
    count: Annotated[
        int, typer.Option("--count", "-n", help="How many tubes; 0 for all of the file.", min=0)
    ] = 6
    seat: Seat = ""
    medium: OnlyMedium = ""
    how: Annotated[str, typer.Option(help="alone, white (at hand) or water (on paper).")] = ""


@_sheet("palette", PaletteCard)
def palette(question: PaletteCard) -> None:
    """A palette card: tubes as strips, what they reach, and the missing corner."""
    from tubewise.advice.palette.offer import offer_of
    from tubewise.advice.palette.reach import range_of, widest_range
    from tubewise.cli import show
    from tubewise.cli.source import shelf_of, tubes_from, tubes_of
    from tubewise.sheets.palette_card import pages

    if question.seat or not question.count:
        tubes = tubes_from(question.from_, question.seat, question.catalogue)
    else:
        tubes = tubes_of(question.from_)
    shelf = shelf_of((), None, tubes)
    offer = offer_of(tubes, shelf, medium=question.medium, in_stock=question.count > 0)
    show.compile_search()
    if question.count:
        answer = widest_range(offer, question.count, shelf, how=question.how)
    else:
        answer = range_of(offer.kinds, shelf, offer.medium, question.how)
    question.print(pages, answer, "palette")
