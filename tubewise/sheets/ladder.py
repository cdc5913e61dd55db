"""The tint ladder at true size: each tube with more and more white, and a cell to paint by each."""

from __future__ import annotations

from datetime import date
from typing import Any

from tubewise.advice.cards.paint_facts import rests_on
from tubewise.advice.cards.tint_ladder import TintLadder
from tubewise.advice.words.permanence import permanence_text
from tubewise.advice.words.pigments import pigments_text
from tubewise.sheets.press import press
from tubewise.sheets.shown import caution_texts


def pages(
    answer: TintLadder, paper: str = "a4", format: str = "pdf", on: date | None = None
) -> tuple[bytes, ...]:
    """The ladders: PDF as one file, SVG and PNG page by page. Raises UserError, see `press`."""
    return press(
        "ladder.typ",
        data(answer),
        title=answer.title,
        basis=rests_on(answer.paints),
        paper=paper,
        format=format,
        on=on,
    )


def data(answer: TintLadder) -> dict[str, Any]:
    """The ladders as plain data."""
    return {
        "heading": answer.title,
        "words": answer.words,
        "ladders": [
            {
                "title": shown.title,
                "pigments": "" if shown.title in shown.pigments else pigments_text(shown.pigments),
                "lightfastness": permanence_text(shown.lightfastness),
                "caution": bool(shown.cautions),
                "rungs": [
                    {
                        "parts": answer.alone if rung.white == 0 else f"1 : {rung.white:g}",
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
