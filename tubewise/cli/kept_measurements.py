"""A tube's measurements on the command line: listed, set aside, taken up again, exported."""

from __future__ import annotations

from typing import TYPE_CHECKING

import typer

from tubewise.cli import show
from tubewise.errors import UserError
from tubewise.measure import attach
from tubewise.store.store import Store
from tubewise.tables.writing import write_whole

if TYPE_CHECKING:
    from tubewise.cli.measure_question import MeasureQuestion


def look_after(question: MeasureQuestion, action: str) -> None:
    """Do what `action` (--history, --withdraw, --reinstate or --export) says, and tell it.

    Raises UserError where no tube is named, or it has no such measurement.
    """
    if not question.tube:
        raise UserError("Say which tube: --tube ID.")
    with Store() as store:
        if action == "--export" and question.export is not None:
            document = attach.export(store, question.tube, question.number)
            write_whole(question.export, document + "\n")
            versions: tuple[attach.Version, ...] = ()
        elif action == "--withdraw":
            versions = (attach.withdraw(store, question.tube, question.number),)
        elif action == "--reinstate":
            if question.number is None:
                raise UserError("Say which measurement to use again: --number N.")
            versions = (attach.reinstate(store, question.tube, question.number),)
        else:
            versions = attach.history(store, question.tube)
    if question.as_json:
        show.print_json({"tube": question.tube, "measurements": [_as_data(v) for v in versions]})
        return
    for version in versions:
        typer.echo(version.words)
    if action == "--history" and not versions:
        typer.echo("never measured")
    if action == "--export":
        typer.echo(f"written to {question.export}")


def _as_data(version: attach.Version) -> dict[str, object]:
    return {
        "version": version.version,
        "withdrawn": version.withdrawn,
        "level": version.optics.level,
        "date": version.optics.date,
        "instrument": version.optics.instrument,
        "worst_delta_e00": version.optics.worst_delta_e00,
    }
