"""The mixing chart at true size: every tube with every other, computed beside a cell to paint."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import takewhile
from typing import Any

from tubewise.advice.cards.mixing_chart import ChartCell, MixingChart
from tubewise.advice.cards.paint_facts import rests_on
from tubewise.advice.words.pigments import pigments_text
from tubewise.sheets.press import press, shortened
from tubewise.sheets.shown import caution_texts


def pages(
    answer: MixingChart, paper: str = "a4", format: str = "pdf", on: date | None = None
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


def data(answer: MixingChart) -> dict[str, Any]:
    """The chart as plain data."""
    line, titles = shared_beginning([shown.title for shown in answer.paints])
    return {
        "words": f"{answer.words} All tubes are {line}." if line else answer.words,
        "tubes": [
            {
                "number": number,
                "title": shortened(title, 60),
                "pigments": ""
                if shown.title in shown.pigments
                else shortened(pigments_text(shown.pigments), 40),
                "caution": bool(shown.cautions),
            }
            for number, (shown, title) in enumerate(zip(answer.paints, titles, strict=True), 1)
        ],
        "cells": [[_cell(c) for c in row] for row in answer.cells],
        "tints": [_cell(c) for c in answer.tints],
        "cautions": caution_texts([c for p in answer.paints for c in p.cautions]),
    }


def shared_beginning(titles: Sequence[str]) -> tuple[str, list[str]]:
    """The words that all titles begin with, as a maker's line is, and what is left of each.

    Each keeps a word of its own; "" and the titles as they are where nothing is shared.
    """
    words = [title.split() for title in titles]
    most = min(map(len, words)) - 1
    same = takewhile(lambda at: len({each[at] for each in words}) == 1, range(most))
    count = len(list(same))
    return " ".join(words[0][:count]), [" ".join(each[count:]) for each in words]


def _cell(cell: ChartCell) -> dict[str, str]:
    return {"hex": cell.colour.hex, "name": cell.colour.name, "parts": cell.parts}
