"""`tubewise import`: a catalogue into the store."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from tubewise.cli.options import Json


def import_catalogue(
    file: Annotated[Path, typer.Argument(metavar="FILE", help="A catalogue (CSV or XLSX).")],
    as_json: Json = False,
) -> None:
    """Import a catalogue into the store: all rows or, when any is wrong, none."""
    from tubewise.cli import show
    from tubewise.store.store import Store

    with show.progress("importing", quiet=as_json) as step, Store() as store:
        counts = store.import_catalogue(file, progress=step)
    if as_json:
        show.print_json(counts)
    else:
        print(f"{counts.added} added, {counts.changed} changed, {counts.unchanged} unchanged")
