"""`tubewise check`: every seat's box against the supply list."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from tubewise.cli.options import All, Catalogue, Json, PurposeText


def check(
    supply: Annotated[Path, typer.Argument(metavar="LIST", help="The supply list (CSV or XLSX).")],
    boxes: Annotated[Path, typer.Option("--boxes", metavar="FILE", help="The seats' boxes.")],
    catalogue: Catalogue = None,
    for_: PurposeText = "",
    html: Annotated[
        Path | None, typer.Option("--html", metavar="FILE", help="Write the report as a page too.")
    ] = None,
    seat: Annotated[
        list[str] | None,
        typer.Option("--seat", metavar="N", help="Explain this seat; repeatable."),
    ] = None,
    all_: All = False,
    as_json: Json = False,
) -> None:
    """Check each seat's box against a supply list. Exit status 1 when a seat is not ready.

    One page: the grid, what to write to whom, what to buy; more with --seat or --all.
    """
    from tubewise.advice.classroom.check import check as check_class
    from tubewise.advice.classroom.workshop import Workshop
    from tubewise.cli import show
    from tubewise.cli.report_choice import print_chosen
    from tubewise.cli.source import catalogue_of, kept_measurements
    from tubewise.pigments.purpose import purpose_typed
    from tubewise.tubes.catalogue import read_boxes
    from tubewise.tubes.supply import read_supply_list

    workshop = Workshop(
        read_supply_list(supply),
        read_boxes(boxes),
        catalogue_of(catalogue),
        kept_measurements(),
        purpose_typed(for_),
    )
    show.compile_search()
    with show.progress("checking seats", quiet=as_json) as step:
        answer = check_class(workshop, step)
    if html is not None:
        from tubewise.sheets.class_page import class_page
        from tubewise.tables.writing import write_whole

        write_whole(html, class_page(answer))
    if as_json:
        show.print_json(answer)
    else:
        print_chosen(answer, show.console(), seat or (), everything=all_)
    if len(answer.summary.ready) < len(answer.seats):
        raise typer.Exit(1)
