"""Strips and cautions as the templates take them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any

from tubewise.advice.words.lists import dotted
from tubewise.paints.strip import Strip, key_of
from tubewise.pigments.pigment import Caution
from tubewise.sheets.press import day_words
from tubewise.tubes.occasion import Occasion

# What a spreadsheet adds to a day that has no hour.
_MIDNIGHT = ("", " 00:00:00", "T00:00:00")


def occasion_data(workshop: str, known: Occasion) -> dict[str, str]:
    """A class sheet's heading: the workshop's title, else the list's name, and when and where."""
    return {
        "workshop": known.title or workshop,
        "when": dotted(_day(known.date), known.place),
    }


def _day(text: str) -> str:
    """A date as every sheet has it; whatever else a teacher wrote stays."""
    try:
        return day_words(date.fromisoformat(text[:10])) if text[10:] in _MIDNIGHT else text
    except ValueError:
        return text


def strip_data(drawn: Strip | None) -> dict[str, Any] | None:
    """A strip as the templates take it."""
    if drawn is None:
        return None
    return {
        "masstone": drawn.masstone,
        "over_white": list(drawn.over_white),
        "over_black": list(drawn.over_black),
        "tints": list(drawn.tints),
        "named": drawn.key.named,
        "numbers": list(drawn.key.tints),
    }


def key_data(strips: Iterable[Strip | None]) -> dict[str, Any]:
    """The key over strips as the templates take it."""
    key = key_of(strips)
    return {"alone": key.alone, "thick": key.thick, "thin": key.thin, "tints": list(key.tints)}


def caution_kinds(found: Sequence[Caution]) -> str:
    """The kinds of caution, each once: cadmium, zinc."""
    return ", ".join(dict.fromkeys(c.kind for c in found))


def caution_texts(found: Sequence[Caution]) -> list[str]:
    """The cautions in full, each once."""
    return list(dict.fromkeys(c.text for c in found))
