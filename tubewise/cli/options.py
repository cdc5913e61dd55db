"""Options that several commands share."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

Json = Annotated[bool, typer.Option("--json", help="Print JSON instead of words.")]
All = Annotated[bool, typer.Option("--all", help="Everything, with reasons and numbers.")]
Numbers = Annotated[
    bool, typer.Option("--numbers", help="How far apart, as CIEDE2000 with its 95 % interval.")
]
Medium = Annotated[
    str,
    typer.Option(help="The medium that pigments are seen in, and tubes that do not say theirs."),
]
Catalogue = Annotated[
    Path | None,
    typer.Option(
        "--catalogue",
        "-c",
        metavar="FILE",
        help="Tubes (CSV or XLSX) that terms may name; else the store's.",
    ),
]
PurposeText = Annotated[
    str,
    typer.Option(
        "--for",
        metavar="PURPOSE",
        help="practice, or sale: nothing below lightfast II in its binder.",
    ),
]
Without = Annotated[
    list[str] | None,
    typer.Option(
        metavar="WISH",
        help="Leave out a tube's id or name, a pigment, or a class of caution such as cadmium; "
        "repeatable.",
    ),
]
Make = Annotated[
    str, typer.Option(metavar="AMOUNT", help="How much to mix, such as 30ml, for each seat.")
]
ForSeats = Annotated[int, typer.Option(help="For so many seats.", min=0)]
