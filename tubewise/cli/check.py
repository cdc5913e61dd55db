"""`tubewise check`: every seat's box against the supply list."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from tubewise.cli.options import All, Catalogue, Json, PurposeText


@dataclass(frozen=True, kw_only=True)
class CheckQuestion:
    """What `tubewise check` is asked."""

    supply: Annotated[Path, typer.Argument(metavar="LIST", help="The supply list (CSV or XLSX).")]
    boxes: Annotated[Path, typer.Option("--boxes", metavar="FILE", help="The seats' boxes.")]
    catalogue: Catalogue = None
    for_: PurposeText = ""
    html: Annotated[
        Path | None, typer.Option("--html", metavar="FILE", help="Write the report as a page too.")
    ] = None
    seat: Annotated[
        list[str] | None,
        typer.Option("--seat", metavar="N", help="Explain this seat; repeatable."),
    ] = None
    read: Annotated[
        bool,
        typer.Option("--read", help="Show what every line of the boxes is taken for, and stop."),
    ] = False
    all_: All = False
    as_json: Json = False


def check(question: CheckQuestion) -> None:
    """Check each seat's box against a supply list. Exit status 1 when a seat is not ready.

    One page: the grid, what to write to whom, what to buy; more with --seat or --all.
    """
    from tubewise.advice.classroom.check import check as check_class
    from tubewise.advice.classroom.workshop import Workshop
    from tubewise.cli import show
    from tubewise.cli.brief import print_read
    from tubewise.cli.report_choice import print_chosen
    from tubewise.cli.source import catalogue_of, kept_measurements
    from tubewise.pigments.purpose import purpose_typed
    from tubewise.tubes.catalogue import read_boxes
    from tubewise.tubes.supply import read_supply_list

    workshop = Workshop(
        read_supply_list(question.supply),
        read_boxes(question.boxes),
        catalogue_of(question.catalogue),
        kept_measurements(),
        purpose_typed(question.for_),
    )
    if question.read:
        if question.as_json:
            show.print_json(workshop.boxes_read)
        else:
            print_read(workshop.boxes_read, show.console())
        return
    show.compile_search()
    with show.progress("checking seats", quiet=question.as_json) as step:
        answer = check_class(workshop, step)
    if question.html is not None:
        from tubewise.sheets.class_page import class_page
        from tubewise.tables.writing import write_whole

        write_whole(question.html, class_page(answer))
    if question.as_json:
        show.print_json(answer)
    else:
        print_chosen(answer, show.console(), question.seat or (), everything=question.all_)
    if len(answer.summary.ready) < len(answer.seats):
        raise typer.Exit(1)
