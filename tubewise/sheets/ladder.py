"""The tint ladder at true size: each tube with more and more white, and a cell to paint by each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from tubewise.advice.words.permanence import permanence_text
from tubewise.advice.words.pigments import pigments_text
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.appearance import WHITE, Company, lab_alone, lab_with
from tubewise.paints.shelf import Shelf
from tubewise.sheets.press import one_page, press
from tubewise.sheets.shown import Shown, caution_texts, rests_on, show

# Parts of white to one of the tube; each step about as far from the last to the eye.
STEPS = (1.0, 2.0, 4.0, 8.0, 16.0, 32.0, 64.0)
MOST = 40


@dataclass(frozen=True, slots=True)
class Rung:
    """One step: parts of white to one part of the tube (0 is the tube alone), and the colour."""

    white: float
    colour: Colour


@dataclass(frozen=True, slots=True)
class Ladder:
    """A ladder for each paint, from the tube alone to the palest tint with `white`."""

    paints: tuple[Shown, ...]
    rungs: tuple[tuple[Rung, ...], ...]
    white: str


def ladder(terms: Sequence[str], shelf: Shelf, white: str = WHITE) -> Ladder:
    """Tint each of the `terms` with the term `white`. Raises UserError for one nobody knows."""
    if not 1 <= len(terms) <= MOST:
        raise UserError(f"tint ladders take 1 to {MOST} tubes, not {len(terms)}")
    lightener = shelf.term(white)
    paints = [shelf.term(term) for term in terms]
    rungs = []
    for paint in paints:
        steps = [Rung(0.0, Colour.of(lab_alone(paint)[0]))]
        for n in STEPS:
            lab = lab_with(paint, Company("", (lightener,), (n,), 1.0))[0]
            steps.append(Rung(n, Colour.of(lab)))
        rungs.append(tuple(steps))
    return Ladder(tuple(show(p, shelf) for p in paints), tuple(rungs), lightener.name)


def pages(
    answer: Ladder, paper: str = "a4", format: str = "pdf", on: date | None = None
) -> tuple[bytes, ...]:
    """The ladders: PDF as one file, SVG and PNG page by page. Raises UserError, see `press`."""
    return press(
        "ladder.typ",
        data(answer),
        title="Tint ladder",
        basis=rests_on(answer.paints),
        paper=paper,
        format=format,
        on=on,
    )


def sheet(
    answer: Ladder, paper: str = "a4", format: str = "pdf", on: date | None = None, page: int = 1
) -> bytes:
    """The ladders as PDF, or one `page` of them as SVG or PNG."""
    return one_page(pages(answer, paper, format, on), page)


def data(answer: Ladder) -> dict[str, Any]:
    """The ladders as plain data."""
    return {
        "white": answer.white,
        "ladders": [
            {
                "title": shown.title,
                "pigments": "" if shown.title in shown.pigments else pigments_text(shown.pigments),
                "lightfastness": permanence_text(shown.lightfastness),
                "caution": bool(shown.cautions),
                "rungs": [
                    {
                        "parts": "alone" if rung.white == 0 else f"1 : {rung.white:g}",
                        "hex": rung.colour.hex,
                        "name": rung.colour.name,
                    }
                    for rung in rungs
                ],
            }
            for shown, rungs in zip(answer.paints, answer.rungs, strict=True)
        ],
        "cautions": caution_texts([c for p in answer.paints for c in p.cautions]),
    }
