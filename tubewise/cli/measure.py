"""`tubewise measure`: an instrument's readings into measured optics, kept with their tube."""

from __future__ import annotations

import typer

from tubewise.cli.measure_question import MeasureQuestion


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
