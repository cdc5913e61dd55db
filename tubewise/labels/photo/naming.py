"""Which line of a label looks like the paint's name."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final

from tubewise.labels.photo.candidates import codes_in
from tubewise.labels.photo.lines import PrintedLine, length_and_height
from tubewise.labels.vocabulary import located_words, words

_NO_NAME: Final = re.compile(r"\d|[:%]|\bml\b|\blot\b", re.IGNORECASE)
_HUE_WORTH: Final = 0.9  # a word for a colour counts as much as print so much larger


def likely_name(lines: Sequence[PrintedLine]) -> int | None:
    """The number of the line most like a name: large print, words for colours, no figures.

    None where no line serves. A person confirms it.
    """
    heights = [length_and_height(line.quad)[1] for line in lines]
    usual = sorted(heights)[len(heights) // 2] if heights else 1.0
    best, worth = None, 0.6
    for place, line in enumerate(lines):
        text = line.text.strip()
        if _NO_NAME.search(text) or codes_in(text) or len(text.split()) > 5 or line.score < 0.6:
            continue
        if sum(character.isalpha() for character in text) < 3:
            continue
        found = heights[place] / usual + _HUE_WORTH * _names_a_colour(text)
        if found > worth:
            best, worth = place, found
    return best


def _names_a_colour(text: str) -> bool:
    hues = {meaning for meaning, role in words().values() if role in ("hue", "tint", "shade")}
    return any(word.word in hues for word in located_words(text))
