"""`tubewise measure`: an instrument's readings into measured optics, kept with their tube."""

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


def measure(question: MeasureQuestion) -> None:
    """Turn readings of a paint's drawdowns into its measured K and S, and keep them with its tube.

    Name the samples `masstone`, `masstone over black`, `masstone over white`, `tint 1:4` (parts of
    paint to white by volume; `tint 1:4 by weight`), `white`, `card black`, `card white`; or list
    them in a spreadsheet (--manifest; --template prints one).
    """
    from tubewise.errors import UserError

    actions = _actions(question)
    readings = bool(question.files or question.swatch)
    if question.template:
        from tubewise.measure.manifest import template

        typer.echo(template(), nl=False)
    elif len(actions) > 1 or (actions and readings):
        raise UserError(f"{' and '.join(actions)} can't go with the rest; ask one thing.")
    elif actions or (question.export and not readings):
        from tubewise.cli.kept_measurements import look_after

        look_after(question, actions[0] if actions else "--export")
    elif readings:
        _measure(question)
    else:
        raise UserError(
            "Name the files of readings, or give a swatch's colour with --swatch L,a,b."
        )


def _actions(question: MeasureQuestion) -> list[str]:
    """What is wanted of measurements already kept."""
    wanted = {
        "--history": question.history,
        "--withdraw": question.withdraw,
        "--reinstate": question.reinstate,
    }
    return [name for name, on in wanted.items() if on]


def _measure(question: MeasureQuestion) -> None:
    from tubewise.cli import show
    from tubewise.cli.fitting import fit
    from tubewise.cli.measurement_words import as_data, print_measurement
    from tubewise.tables.writing import write_whole

    optics = fit(question)
    version = None
    if optics.tube and not question.dry_run:
        from tubewise.measure.attach import attach
        from tubewise.store.store import Store

        with Store() as store:
            version = attach(store, optics)
    if question.export:
        write_whole(question.export, optics.to_json() + "\n")
    if question.as_json:
        show.print_json(as_data(optics, version))
    else:
        print_measurement(optics, version)
