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


def _medium(typed: str) -> str:
    """A medium by any usual name in six languages. Raises UserError."""
    from tubewise.errors import UserError
    from tubewise.pigments.binders import binder_named

    try:
        return binder_named(typed)
    except ValueError as error:
        raise UserError(str(error), where="--medium") from None


_MEDIA = "acrylic, oil, watercolour, gouache … by any usual name"
Medium = Annotated[
    str,
    typer.Option(
        callback=_medium,
        help=f"The medium of pigments, and of tubes that do not say theirs: {_MEDIA}.",
    ),
]
OnlyMedium = Annotated[
    str, typer.Option(callback=_medium, help=f"Only tubes of this medium: {_MEDIA}.")
]
From = Annotated[
    Path | None,
    typer.Option(
        "--from", metavar="FILE", help="The tubes (CSV, XLSX or ODS), or boxes; else the store's."
    ),
]
Seat = Annotated[str, typer.Option(help="Whose box, where there are several.")]
Catalogue = Annotated[
    Path | None,
    typer.Option(
        "--from",
        "--catalogue",
        "-c",
        metavar="FILE",
        help="Tubes that may be named (CSV, XLSX or ODS); else the store's.",
    ),
]
# Where --from says whose tubes are used, what is sold beside them is the catalogue.
Shop = Annotated[
    Path | None,
    typer.Option(
        "--catalogue", "-c", metavar="FILE", help="What a shop sells beside them; else the store's."
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
