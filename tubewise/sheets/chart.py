"""The mixing chart at true size: every tube with every other, computed beside a cell to paint."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from tubewise.advice.words.pigments import pigments_text
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.appearance import WHITE, appearance, lab_alone, mixed
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.sheets.press import one_page, press, shortened
from tubewise.sheets.shown import Shown, caution_texts, rests_on, show

# Equal parts show the mixture; as much white again as both together shows its hue where it is dark.
TINT_WHITE = 4.0
MOST = 24


@dataclass(frozen=True, slots=True)
class Chart:
    """`cells[i][j]` is the colour of tube i with tube j: above the diagonal in equal parts, below
    it the same with white, on it the tube alone."""

    paints: tuple[Shown, ...]
    cells: tuple[tuple[Colour, ...], ...]
    white: str


def chart(terms: Sequence[str], shelf: Shelf, white: str = WHITE) -> Chart:
    """Mix each of 2 to 24 `terms` with each other; `white` is the term that lightens them.

    Raises UserError for another number of terms, or one that nobody knows.
    """
    if not 2 <= len(terms) <= MOST:
        raise UserError(f"a mixing chart takes 2 to {MOST} tubes, not {len(terms)}")
    paints = [shelf.term(term) for term in terms]
    lightener = shelf.term(white)
    cells = []
    for i, one in enumerate(paints):
        row = []
        for j, other in enumerate(paints):
            if i == j:
                row.append(Colour.of(lab_alone(one)[0]))
            elif i < j:
                row.append(_mixed([one, other], [1.0, 1.0]))
            else:
                row.append(_mixed([one, other, lightener], [1.0, 1.0, TINT_WHITE]))
        cells.append(tuple(row))
    return Chart(tuple(show(p, shelf) for p in paints), tuple(cells), lightener.name)


def _mixed(paints: Sequence[Paint], parts: Sequence[float]) -> Colour:
    K, S = mixed(paints, parts)
    return Colour.of(lab_from_reflectance(appearance(K[:1], S[:1]))[0])


def pages(
    answer: Chart, paper: str = "a4", format: str = "pdf", on: date | None = None
) -> tuple[bytes, ...]:
    """The chart: PDF as one file, SVG and PNG page by page. Raises UserError, see `press`."""
    return press(
        "chart.typ",
        data(answer),
        title="Mixing chart",
        basis=rests_on(answer.paints),
        paper=paper,
        format=format,
        on=on,
    )


def sheet(
    answer: Chart, paper: str = "a4", format: str = "pdf", on: date | None = None, page: int = 1
) -> bytes:
    """The whole chart as PDF, or one `page` of it as SVG or PNG."""
    return one_page(pages(answer, paper, format, on), page)


def data(answer: Chart) -> dict[str, Any]:
    """The chart as plain data."""
    return {
        "white": answer.white,
        "tint": f"1 : 1 : {TINT_WHITE:g}",
        "tubes": [
            {
                "number": number,
                "title": shortened(shown.title, 60),
                "pigments": ""
                if shown.title in shown.pigments
                else shortened(pigments_text(shown.pigments), 40),
                "caution": bool(shown.cautions),
            }
            for number, shown in enumerate(answer.paints, 1)
        ],
        "cells": [[{"hex": c.hex, "name": c.name} for c in row] for row in answer.cells],
        "cautions": caution_texts([c for p in answer.paints for c in p.cautions]),
    }
