"""`tubewise label`: read what is printed on a tube."""

from __future__ import annotations

from collections.abc import Container
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import Json
from tubewise.cli.photograph import MarkedFolder, Photos, label_photographs
from tubewise.errors import UserError

if TYPE_CHECKING:
    from tubewise.advice.counter.label import LabelAnswer, LabelPigment


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


def print_label(answer: LabelAnswer, shown: Container[str] = ()) -> None:
    """The pigments of a label, then its cautions and the warnings not `shown` elsewhere."""
    for pigment in answer.pigments:
        assumed = " (form assumed)" if pigment.form and pigment.form_assumed else ""
        number = f", C.I. {pigment.constitution}" if pigment.constitution else ""
        print(f"{pigment.ref}{assumed}  {pigment.called or 'not in our register'}{number}")
        if facts := _facts(pigment):
            print(f"    {facts}")
    for warning in answer.warnings:
        if warning.message in shown:
            continue
        place = answer.pointed_at(warning)
        print(f"! [{place}] {warning.message}" if place else f"! {warning.message}")
    for caution in answer.cautions:
        print(f"Caution: {caution}")


def _facts(pigment: LabelPigment) -> str:
    """Opacity and lightfastness in a line, empty for a code that the register does not list."""
    from tubewise.advice.words.permanence import permanence_by_binder

    lasting = permanence_by_binder(pigment.lightfastness)
    return ", ".join(filter(None, (pigment.opacity, lasting and f"lightfastness {lasting}")))
