"""`tubewise label`: read what is printed on a tube."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from tubewise.cli.label_words import print_label
from tubewise.cli.options import Json
from tubewise.cli.photograph import MarkedFolder, Photos, label_photographs
from tubewise.errors import UserError


def label(
    text: Annotated[str, typer.Argument(metavar="TEXT", help="What the label says.")] = "",
    name: Annotated[str, typer.Option("--name", help="The tube's name, checked against it.")] = "",
    photo: Photos = None,
    marked: MarkedFolder = None,
    as_json: Json = False,
) -> None:
    """Read a label: its pigments, and what is missing, contradictory or misleading."""
    from tubewise.advice.counter.label import read_label
    from tubewise.advice.plain import to_json

    if photo:
        label_photographs([*photo, *([Path(text)] if text else [])], marked, as_json)
        return
    if not text:
        raise UserError("Type what the label says, or give a picture of it with --photo.")
    answer = read_label(text, name)
    if as_json:
        print(to_json(answer))
    else:
        print_label(answer)
