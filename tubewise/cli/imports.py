"""`tubewise import`: a shop's export into the store."""

from __future__ import annotations

from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import Json
from tubewise.errors import UserError

if TYPE_CHECKING:
    from tubewise.tubes.exports import Export


def import_catalogue(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="A shop's export (CSV, XLSX or ODS).")
    ],
    map_: Annotated[
        list[str] | None,
        typer.Option(
            "--map",
            metavar="HEADING=COLUMN",
            help="Say which column is which, or that it is ignored; repeatable, remembered.",
        ),
    ] = None,
    lenient: Annotated[
        bool,
        typer.Option("--lenient", help="Leave out rows that can't be read, and list them."),
    ] = False,
    as_json: Json = False,
) -> None:
    """Import a shop's export into the store: all rows or, when any is wrong, none.

    Columns are known by their headings, else by what stands in them; how is printed.
    """
    from tubewise.cli import show
    from tubewise.store.store import Store
    from tubewise.tubes.exports import read_export

    chosen = dict(_choice(text) for text in map_ or ())
    with show.progress("importing", quiet=as_json) as step, Store() as store:
        export = read_export(file, chosen, remembered=store.chosen_columns(), lenient=lenient)
        counts = store.import_catalogue(export.tubes, progress=step)
        store.choose_columns(chosen)
    if as_json:
        show.print_json({**asdict(counts), "export": _without_tubes(export)})
        return
    _print_export(export)
    print(f"{counts.added} added, {counts.changed} changed, {counts.unchanged} unchanged")


def _choice(text: str) -> tuple[str, str]:
    """`Bezeichnung=name`. Raises UserError for anything else."""
    heading, equals, column = text.rpartition("=")
    if not equals or not heading.strip() or not column.strip():
        raise UserError("write it as HEADING=COLUMN, such as Bezeichnung=name", where=f"“{text}”")
    return heading.strip(), column.strip()


def _print_export(export: Export) -> None:
    from tubewise.cli import show

    to = show.console()
    for mapped in export.mapping:
        show.line(to, mapped.words)
    for words in export.passed_over:
        show.line(to, f"passed over: {words}")
    for words in export.doubts:
        show.line(to, f"? {words}")
    if export.left_out:
        show.heading(to, f"Left out: {len(export.left_out)}")
    for words in export.left_out:
        show.line(to, words, indent=2)


def _without_tubes(export: Export) -> dict[str, object]:
    from tubewise.advice.plain import plain

    return {key: value for key, value in plain(export).items() if key != "tubes"}
