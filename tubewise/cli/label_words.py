"""A label's answer printed for people."""

from __future__ import annotations

from collections.abc import Container
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tubewise.advice.counter.label import LabelAnswer, LabelPigment


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
