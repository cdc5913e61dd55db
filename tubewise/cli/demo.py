"""`tubewise demo`: the class check of a demo workshop."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from tubewise.cli.options import All, Json
from tubewise.demo.titles import FIRST, TITLES


def demo(
    out: Annotated[
        Path, typer.Option("--out", metavar="FOLDER", help="Where to write the report.")
    ] = Path("tubewise-demo"),
    workshop: Annotated[
        str, typer.Option("--workshop", metavar="NAME", help=f"One of: {', '.join(TITLES)}.")
    ] = FIRST,
    all_: All = False,
    as_json: Json = False,
) -> None:
    """Run the class check of a demo workshop; writes it as JSON and as a page too."""
    from tubewise.advice.plain import to_json
    from tubewise.cli import show
    from tubewise.cli.report_choice import print_chosen
    from tubewise.demo.workshop import folder, run
    from tubewise.sheets.class_page import class_page
    from tubewise.tables.writing import write_whole

    folder(workshop)
    show.compile_search()
    with show.progress("checking seats", quiet=as_json) as step:
        answer = run(step, workshop)
    if as_json:
        show.print_json(answer)
        return
    print_chosen(answer, show.console(), everything=all_)
    write_whole(out / "class-check.json", to_json(answer) + "\n")
    write_whole(out / "class-check.html", class_page(answer))
    print(f"\nWritten: {out / 'class-check.json'} and {out / 'class-check.html'}")
