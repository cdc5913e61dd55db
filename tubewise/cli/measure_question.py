"""What `tubewise measure` is asked, option by option."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Annotated

import typer

from tubewise.cli.options import Json


@dataclass(frozen=True, kw_only=True)
class MeasureQuestion:
    """What `tubewise measure` is asked."""

    files: Annotated[
        list[Path] | None,
        typer.Argument(
            metavar="FILE …", help="Spectra: CGATS, CxF3 or CSV, or an exported measurement."
        ),
    ] = None
    tube: Annotated[str, typer.Option(help="Id of the tube that was measured.")] = ""
    manifest: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Which reading is which drawdown; see --template."),
    ] = None
    specular: Annotated[
        str, typer.Option(help="included or excluded, where the file doesn't say.")
    ] = ""
    scale: Annotated[str, typer.Option(help="auto, fraction or percent.")] = "auto"
    density: Annotated[
        float | None, typer.Option(help="Of the paint, g/ml, for parts by weight.")
    ] = None
    white_density: Annotated[float | None, typer.Option(help="Of the white, g/ml.")] = None
    white: Annotated[
        str, typer.Option(help="The white of the tints: a measured tube's id or an exported file.")
    ] = ""
    pigment: Annotated[
        str, typer.Option(help="PV19/gamma and the like: the model to lean on, if a tube has none.")
    ] = ""
    swatch: Annotated[
        str, typer.Option(metavar="L,a,b", help="Only a swatch's colour: scale the model to it.")
    ] = ""
    only: Annotated[
        str, typer.Option(metavar="NAME", help="The paint, where the files hold several.")
    ] = ""
    fit_surface: Annotated[
        bool, typer.Option("--fit-surface", help="Fit Saunderson's constants too.")
    ] = False
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Fit and tell, but don't keep it with the tube.")
    ] = False
    history: Annotated[bool, typer.Option("--history", help="List the tube's measurements.")] = (
        False
    )
    withdraw: Annotated[
        bool, typer.Option("--withdraw", help="Set the tube's measurement aside.")
    ] = False
    reinstate: Annotated[
        bool, typer.Option("--reinstate", help="Use a withdrawn measurement again (--number).")
    ] = False
    number: Annotated[
        int | None, typer.Option(help="Which of the tube's measurements; else the one in use.")
    ] = None
    export: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the measurement as JSON.")
    ] = None
    template: Annotated[
        bool, typer.Option("--template", help="Print a list of drawdowns to fill in.")
    ] = False
    as_json: Json = False
