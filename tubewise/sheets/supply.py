"""The supply list as a hand-out: what to look for, what stands in, what to beware of."""

from __future__ import annotations

from datetime import date
from typing import Any

from tubewise.advice.classroom.handout import Choice, Handout, SlotSheet
from tubewise.advice.classroom.look_for import Code
from tubewise.advice.classroom.shopping import Buy
from tubewise.advice.words.lists import dotted
from tubewise.advice.words.permanence import permanence_text
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text
from tubewise.advice.words.size import size_text
from tubewise.sheets.press import capitalised, press
from tubewise.sheets.shown import (
    caution_kinds,
    caution_texts,
    key_data,
    occasion_data,
    strip_data,
)


def pages(
    answer: Handout, paper: str = "a4", format: str = "pdf", on: date | None = None
) -> tuple[bytes, ...]:
    """The hand-out: PDF as one file, SVG and PNG page by page. Raises UserError, see `press`."""
    return press(
        "supply.typ",
        data(answer),
        title=f"Supply list: {answer.occasion.title or answer.workshop}",
        paper=paper,
        format=format,
        on=on,
    )


def data(answer: Handout) -> dict[str, Any]:
    """The hand-out as plain data."""
    return {
        **occasion_data(answer.workshop, answer.occasion),
        "catalogued": answer.catalogued,
        "slots": [_slot(s) for s in answer.slots],
        "key": key_data(s.strip for s in answer.slots),
        "cautions": caution_texts([c for s in answer.slots for c in s.cautions]),
    }


def _slot(s: SlotSheet) -> dict[str, Any]:
    return {
        "slot": s.slot.slot,
        "codes": [
            # A tube of one pigment is called by its name; of several, the lines below name each.
            {
                "codes": " + ".join(map(_code, codes)),
                "name": codes[0].name if len(codes) == 1 else "",
            }
            for codes in s.look_for
        ],
        "details": [_detail(c) for c in dict.fromkeys(c for codes in s.look_for for c in codes)],
        # Where one line has named them all, the next need not.
        "named": all(len(codes) == 1 for codes in s.look_for),
        "size": f"{size_text(s.slot.min_ml)} or more" if s.slot.min_ml else "",
        "medium": ", ".join(filter(None, (s.slot.medium, *s.slot.handling))),
        "note": ". ".join(filter(None, (capitalised(s.unfit), s.slot.note))),
        "name": s.colour.name,
        "strip": strip_data(s.strip),
        "lightfastness": permanence_text(s.lightfastness),
        "caution": caution_kinds(s.cautions),
        "buys": [_buy(buy) for buy in s.buys],
        "standins": list(map(_choice, s.standins)),
        "unclear": list(map(_choice, s.unclear)),
        "beware": list(map(_choice, s.beware)),
    }


def _buy(buy: Buy) -> dict[str, str]:
    count = f"{buy.count} × " if buy.count > 1 else ""
    return {
        "title": count + buy.title,
        "facts": dotted(
            buy.grade, size_text(buy.size_ml), price_text(buy.price, buy.currency), buy.shop
        ),
    }


def _code(code: Code) -> str:
    return f"{code.code} ({code.form})" if code.form else code.code


def _detail(code: Code) -> dict[str, str]:
    numbers = f"C.I. {' or '.join(code.constitutions)}" if code.constitutions else ""
    return {
        "code": code.code,
        "name": code.name,
        "words": dotted(
            numbers, ", ".join(f"“{word}”" for word in code.words if word != code.name)
        ),
        "beware": code.beware,
    }


def _choice(choice: Choice) -> dict[str, str]:
    return {
        "title": choice.title,
        "pigments": pigments_text(choice.pigments),
        "words": choice.words,
    }
