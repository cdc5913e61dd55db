"""The palette card: its tubes as strips, what they reach as painted circles, what is missing."""

from __future__ import annotations

from datetime import date
from typing import Any

from tubewise.advice.palette.reach import Range
from tubewise.advice.palette.shape import LIGHTNESSES, reached_by_hue
from tubewise.advice.words.lists import dotted
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text
from tubewise.sheets.press import press
from tubewise.sheets.shown import strip_data

# Chroma at which a circle fills its cell.
FULL = 90.0


def pages(
    answer: Range, paper: str = "a4", format: str = "pdf", on: date | None = None
) -> tuple[bytes, ...]:
    """The card: PDF as one file, SVG and PNG page by page. Raises UserError, see `press`."""
    return press("palette.typ", data(answer), title="Palette", paper=paper, format=format, on=on)


def data(answer: Range) -> dict[str, Any]:
    """The card as plain data."""
    return {
        "words": answer.words,
        "price": price_text(answer.price, answer.currency),
        "tubes": [
            {
                "title": member.tube.title,
                "pigments": pigments_text(member.tube.pigments),
                "facts": dotted(
                    price_text(member.tube.price, member.tube.currency),
                    f"without it {member.loses:.0%} would be gone",
                    f"for {member.good_for}" if member.good_for else "",
                ),
                "strip": strip_data(member.tube.strip),
            }
            for member in answer.tubes
        ],
        "lightnesses": [f"{L:g}" for L in LIGHTNESSES],
        "hues": [
            {
                "name": row.name,
                "cells": [
                    {
                        "hex": cell.colour.hex,
                        "size": min(cell.chroma / FULL, 1.0) ** 0.5,
                        "name": cell.colour.name,
                    }
                    for cell in row.cells
                ],
            }
            for row in reached_by_hue(answer.shape)
        ],
        "missing": list(answer.shape.missing),
    }
