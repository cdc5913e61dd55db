"""The comparison card for the counter: two to four tubes as drawdowns that touch, words first."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import Any

from tubewise.advice.alike.compare import Compared, in_common
from tubewise.advice.cards.comparison import ComparisonCard
from tubewise.advice.cards.paint_facts import rests_on
from tubewise.advice.words.permanence import permanence_text
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.sureness import sureness_text
from tubewise.sheets.press import capitalised, press
from tubewise.sheets.shown import (
    caution_kinds,
    caution_texts,
    key_data,
    strip_data,
)

LETTERS = "ABCD"


def pages(
    answer: ComparisonCard, paper: str = "a4", format: str = "pdf", on: date | None = None
) -> tuple[bytes, ...]:
    """The card: PDF as one file, SVG and PNG page by page. Raises UserError, see `press`."""
    return press(
        "compare.typ",
        data(answer),
        title="Side by side: " + ", ".join(p.title for p in answer.paints),
        basis=rests_on(answer.paints),
        paper=paper,
        format=format,
        on=on,
    )


def data(answer: ComparisonCard) -> dict[str, Any]:
    """The card as plain data."""
    found = [c for p in answer.paints for c in p.cautions]
    warnings = [answer.compared[0].warnings[0], *(c.warnings[1] for c in answer.compared)]
    return {
        "paints": [
            {
                "letter": letter,
                "title": p.title,
                "pigments": pigments_text(p.pigments),
                "kind": p.kind,
                "name": p.colour.name,
                "lightfastness": permanence_text(p.lightfastness),
                "caution": caution_kinds(p.cautions),
                "price": p.price,
                "basis": p.basis,
                "warning": warning,
                "notes": list(p.notes),
                "strip": strip_data(p.strip),
            }
            for letter, p, warning in zip(LETTERS, answer.paints, warnings, strict=False)
        ],
        "pairs": [
            {
                "letter": letter,
                "identity": c.identity,
                "verdict": capitalised(c.verdict),
                "sure": sureness_text(c.confidence),
                "basis": c.basis,
                "reasons": [*c.reasons, *(f"in layers: {sentence}" for sentence in c.layers)],
            }
            for letter, c in zip(LETTERS[1:], answer.compared, strict=False)
        ],
        "key": key_data(p.strip for p in answer.paints),
        "rows": _rows(answer.compared),
        "cautions": caution_texts(found),
    }


def _rows(compared: Sequence[Compared]) -> list[dict[str, Any]]:
    """One row for each situation: the first paint's colour, then each other's with its words."""
    rows = []
    for same in in_common(compared):
        first = same[0]
        rows.append(
            {
                "situation": first.situation,
                "parts": "" if first.parts.replace(" ", "") in first.situation else first.parts,
                "hex": first.a.hex,
                "name": first.a.name,
                "others": [
                    {
                        "letter": letter,
                        "hex": d.b.hex,
                        "name": d.b.name,
                        "words": d.words_of(letter),
                        "number": f"{d.delta_e00:.1f} ({d.low:.1f} to {d.high:.1f})",
                    }
                    for letter, d in zip(LETTERS[1:], same, strict=False)
                ],
            }
        )
    return rows
