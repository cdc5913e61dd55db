"""Shelf labels to cut out: a strip and a code one reads from the aisle, prices, cautions."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from tubewise.advice.cards.paint_facts import rests_on
from tubewise.advice.cards.shelf_labels import ShelfLabel
from tubewise.advice.words.kind import kind_text
from tubewise.advice.words.lists import dotted
from tubewise.advice.words.permanence import permanence_text
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text, tube_price_per_ml, unit_price_text
from tubewise.advice.words.size import size_text
from tubewise.paints.shelf import assumed_forms
from tubewise.pigments.ref import Ref
from tubewise.sheets.press import press, shortened
from tubewise.sheets.shown import (
    caution_kinds,
    strip_data,
)
from tubewise.tubes.tube import Tube


def pages(
    answer: Sequence[ShelfLabel], paper: str = "a4", format: str = "pdf", on: date | None = None
) -> tuple[bytes, ...]:
    """The labels: PDF as one file, SVG and PNG page by page. Raises UserError, see `press`."""
    paints = [label.paint for label in answer if label.paint is not None]
    return press(
        "labels.typ",
        data(answer),
        title="Shelf labels",
        basis=rests_on(paints),
        paper=paper,
        format=format,
        on=on,
    )


def data(answer: Sequence[ShelfLabel]) -> dict[str, Any]:
    """The labels as plain data."""
    return {"labels": [_label(label) for label in answer]}


def _label(label: ShelfLabel) -> dict[str, Any]:
    tube, paint = label.tube, label.paint
    return {
        "maker": shortened(" ".join(w for w in (tube.maker, tube.line) if w), 34),
        "name": shortened(tube.name or tube.label or tube.id, 52),
        "codes": shortened(" + ".join(Ref(code).code for code in tube.pigments), 40),
        "forms": shortened(_forms(tube), 40),
        "price": price_text(tube.price, tube.currency),
        "unit-price": unit_price_text(tube_price_per_ml(tube), tube.currency),
        "facts": shortened(dotted(kind_text(tube), size_text(tube.size_ml)), 40),
        "lightfastness": permanence_text(label.lightfastness),
        "caution": shortened(caution_kinds(label.cautions), 34),
        "basis": _basis(label),
        "colour": paint.colour.name if paint else "",
        "strip": strip_data(paint.strip) if paint else None,
    }


def _forms(tube: Tube) -> str:
    """What the large codes leave out: their forms, or that a form is not said."""
    whole = pigments_text(tube.pigments)
    return "" if whole == ", ".join(Ref(code).code for code in tube.pigments) else whole


def _basis(label: ShelfLabel) -> str:
    """What the strip rests on; the form that it shows may be only assumed."""
    if label.paint is None:
        return ""
    return "of an assumed form" if assumed_forms(label.tube) else label.paint.basis
