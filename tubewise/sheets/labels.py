"""Shelf labels to cut out: strip, name, pigments, price, lightfastness and a caution sign."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from tubewise.advice.words.lists import dotted
from tubewise.advice.words.permanence import permanence_text
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text
from tubewise.advice.words.size import size_text
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.pigments.permanence import cautions, lightfastness
from tubewise.sheets.press import one_page, press, shortened
from tubewise.sheets.shown import (
    Shown,
    caution_kinds,
    rests_on,
    show,
    strip_data,
)
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True)
class Label:
    """One tube's label; `shown` is None where nothing says what the tube holds."""

    tube: Tube
    shown: Shown | None


def labels(
    tubes: Sequence[Tube],
    shelf: Shelf | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> tuple[Label, ...]:
    """A label for each tube, in the order given. Raises UserError for none."""
    if not tubes:
        raise UserError("no tubes to label: give a catalogue, or import one first")
    known = shelf or Shelf(tubes)
    out = []
    for done, tube in enumerate(tubes, 1):
        paint = known.tube(tube)
        out.append(Label(tube, show(paint, known) if paint is not None else None))
        if progress is not None:
            progress(done, len(tubes))
    return tuple(out)


def pages(
    answer: Sequence[Label], paper: str = "a4", format: str = "pdf", on: date | None = None
) -> tuple[bytes, ...]:
    """The labels: PDF as one file, SVG and PNG page by page. Raises UserError, see `press`."""
    shown = [label.shown for label in answer if label.shown is not None]
    return press(
        "labels.typ",
        data(answer),
        title="Shelf labels",
        basis=rests_on(shown),
        paper=paper,
        format=format,
        on=on,
    )


def sheet(
    answer: Sequence[Label],
    paper: str = "a4",
    format: str = "pdf",
    on: date | None = None,
    page: int = 1,
) -> bytes:
    """The labels as PDF, or one `page` of them as SVG or PNG."""
    return one_page(pages(answer, paper, format, on), page)


def data(answer: Sequence[Label]) -> dict[str, Any]:
    """The labels as plain data."""
    return {"labels": [_label(label) for label in answer]}


def _label(label: Label) -> dict[str, Any]:
    tube, shown = label.tube, label.shown
    refs = tube.refs
    return {
        "maker": shortened(" ".join(w for w in (tube.maker, tube.line) if w), 44),
        "name": shortened(tube.name or tube.label or tube.id, 52),
        "pigments": shortened(pigments_text(tube.pigments), 58),
        "price": price_text(tube.price, tube.currency),
        "facts": shortened(dotted(tube.medium, tube.grade, size_text(tube.size_ml)), 40),
        "lightfastness": permanence_text(lightfastness(refs, tube.medium)) if refs else "",
        "caution": shortened(caution_kinds(cautions(refs)), 34),
        "basis": shown.basis if shown else "",
        "colour": shown.colour.name if shown else "",
        "strip": strip_data(shown.strip) if shown else None,
    }
