"""`tubewise sheet …`: results as printed sheets."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Annotated, TypeVar

import typer

from tubewise.cli.options import Catalogue

T = TypeVar("T")

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
White = Annotated[str, typer.Option("--white", metavar="TERM", help="The white that lightens.")]
List = Annotated[Path, typer.Argument(metavar="LIST", help="The supply list (CSV or XLSX).")]


@app.command("supply")
def supply(
    listed: List,
    catalogue: Catalogue = None,
    out: Out = None,
    paper: Paper = "a4",
    format: Format = "",
) -> None:
    """A hand-out of a supply list: what to look for, what stands in, which names mislead."""
    _printable(out, paper, format)
    from tubewise.advice.classroom.handout import handout
    from tubewise.advice.classroom.workshop import Workshop
    from tubewise.cli import show
    from tubewise.cli.source import catalogue_of, kept_measurements
    from tubewise.sheets import supply as sheet
    from tubewise.tubes.supply import read_supply_list

    workshop = Workshop(
        read_supply_list(listed),
        catalogue=catalogue_of(catalogue),
        measurements=kept_measurements(),
    )
    with show.progress("looking through the catalogue") as step:
        answer = handout(workshop, step)
    _write(sheet.pages, answer, "supply-list", out, paper, format)


@app.command("class")
def class_(
    listed: List,
    boxes: Annotated[Path, typer.Option("--boxes", metavar="FILE", help="The seats' boxes.")],
    catalogue: Catalogue = None,
    out: Out = None,
    paper: Paper = "a4",
    format: Format = "",
) -> None:
    """The class report: a grid for the teacher, then one page a seat."""
    _printable(out, paper, format)
    from tubewise.advice.classroom.check import check
    from tubewise.advice.classroom.workshop import Workshop
    from tubewise.cli import show
    from tubewise.cli.source import catalogue_of, kept_measurements
    from tubewise.sheets import class_report as sheet
    from tubewise.tubes.catalogue import read_boxes
    from tubewise.tubes.supply import read_supply_list

    workshop = Workshop(
        read_supply_list(listed),
        read_boxes(boxes),
        catalogue_of(catalogue),
        kept_measurements(),
    )
    with show.progress("checking seats") as step:
        answer = check(workshop, step)
    _write(sheet.pages, answer, "class-report", out, paper, format)


@app.command("compare")
def compare(
    terms: Terms,
    with_: Annotated[
        list[str] | None,
        typer.Option("--with", metavar="C", help="A partner to mix all with; may be repeated."),
    ] = None,
    catalogue: Catalogue = None,
    out: Out = None,
    paper: Paper = "a4",
    format: Format = "",
) -> None:
    """A card for the counter: two to four tubes side by side."""
    _printable(out, paper, format)
    from tubewise.cli.source import shelf_of
    from tubewise.sheets import compare as sheet

    partners = tuple(with_ or ())
    answer = sheet.card(terms, shelf_of((*terms, *partners), catalogue), partners)
    _write(sheet.pages, answer, "comparison", out, paper, format)


@app.command("recipe")
def recipe(
    target: Annotated[
        str,
        typer.Argument(
            metavar="TARGET",
            help="A tube, lab:L,a,b, #rrggbb, munsell:5R 4/12 or a spectrum file.",
        ),
    ],
    from_: Annotated[Path, typer.Option("--from", metavar="FILE", help="The tubes to mix from.")],
    which: Annotated[int, typer.Option(help="Which of the recipes found, best first.", min=1)] = 1,
    max_paints: Annotated[int, typer.Option(help="At most so many tubes.", min=1, max=6)] = 4,
    max_parts: Annotated[int, typer.Option(help="At most so many parts in all.", min=1)] = 16,
    medium: Annotated[str, typer.Option(help="Only tubes of this medium.")] = "",
    catalogue: Catalogue = None,
    out: Out = None,
    paper: Paper = "a4",
    format: Format = "",
) -> None:
    """A recipe card, with a blank box for a swatch of your own."""
    _printable(out, paper, format)
    from tubewise.cli.solving import solved
    from tubewise.sheets import recipe as sheet

    answer, shelf = solved(target, from_, max_paints, max_parts, medium, catalogue)
    _write(sheet.pages, sheet.card(answer, shelf, which), "recipe", out, paper, format)


@app.command("chart")
def chart(
    terms: Terms,
    white: White = "PW6",
    catalogue: Catalogue = None,
    out: Out = None,
    paper: Paper = "a4",
    format: Format = "",
) -> None:
    """A mixing chart at true size, with cells to paint."""
    _printable(out, paper, format)
    from tubewise.cli.source import shelf_of
    from tubewise.sheets import chart as sheet

    answer = sheet.chart(terms, shelf_of((*terms, white), catalogue), white)
    _write(sheet.pages, answer, "mixing-chart", out, paper, format)


@app.command("ladder")
def ladder(
    terms: Terms,
    white: White = "PW6",
    catalogue: Catalogue = None,
    out: Out = None,
    paper: Paper = "a4",
    format: Format = "",
) -> None:
    """Tint ladders at true size, with cells to paint."""
    _printable(out, paper, format)
    from tubewise.cli.source import shelf_of
    from tubewise.sheets import ladder as sheet

    answer = sheet.ladder(terms, shelf_of((*terms, white), catalogue), white)
    _write(sheet.pages, answer, "tint-ladder", out, paper, format)


@app.command("labels")
def labels(
    tubes: Annotated[
        list[str] | None,
        typer.Argument(metavar="TUBE…", help="Tubes' ids or names; else the whole catalogue."),
    ] = None,
    catalogue: Catalogue = None,
    out: Out = None,
    paper: Paper = "a4",
    format: Format = "",
) -> None:
    """Shelf labels to cut out."""
    _printable(out, paper, format)
    from tubewise.cli import show
    from tubewise.cli.source import catalogue_of, tube_named
    from tubewise.sheets import labels as sheet

    all_tubes = catalogue_of(catalogue)
    chosen = [tube_named(name, all_tubes) for name in tubes or ()] or all_tubes
    with show.progress("drawing strips") as step:
        answer = sheet.labels(chosen, progress=step)
    _write(sheet.pages, answer, "shelf-labels", out, paper, format)


def _printable(out: Path | None, paper: str, format: str) -> None:
    """Refuse a paper or format before any work is done for it."""
    from tubewise.sheets.files import wanted_format
    from tubewise.sheets.press import printable

    printable(paper, wanted_format(out, format))


def _write(
    pages: Callable[[T, str, str], tuple[bytes, ...]],
    answer: T,
    name: str,
    out: Path | None,
    paper: str,
    format: str,
) -> None:
    from tubewise.sheets.files import wanted_format, write_pages

    kind = wanted_format(out, format)
    made = pages(answer, paper, kind)
    for path in write_pages(made, out or Path(f"{name}.{kind}")):
        print(f"Written: {path}")
