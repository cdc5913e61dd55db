"""The paint's name: as given, or the words around the first code that serve as one."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from tubewise.labels.codes import Written
from tubewise.labels.fold import Folded
from tubewise.labels.numbers import Number
from tubewise.labels.reading import Span
from tubewise.labels.vocabulary import KeyWord, located_words, words

_LINE_END = re.compile(r"[\n;|]")
_PART_END = re.compile(r"[\n;|,/+&]")
_ITEM_NUMBER = re.compile(r"\s*(?:#|\bN(?:O|R)?\b[. ]*)?\d+[ .:-]+")
_FIGURE = re.compile(r"(?:\bN(?:O|R)\b[. ]*)?\d")
_WORD = re.compile(r"[A-Z]+")
_MOST_WORDS = 7


@dataclass(frozen=True, slots=True)
class Title:
    """A paint's name with its key words; `where` says which text the offsets point into.

    `start` is where `text` begins in the label; `key` holds the key words alone.
    """

    text: str
    where: Literal["label", "name"]
    found: tuple[KeyWord, ...]
    start: int = 0
    key: tuple[str, ...] = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "key", tuple(word.word for word in self.found))

    def span(self, chosen: Sequence[KeyWord] | None = None) -> Span | None:
        """Offsets that cover the chosen key words, or all of them; None for an empty title."""
        parts = self.found if chosen is None else chosen
        if not parts:
            return None
        return min(part.start for part in parts), max(part.end for part in parts)


def title_of(
    text: str,
    name: str,
    folded: Folded,
    codes: Sequence[Written],
    numbers: Sequence[Number],
) -> Title:
    """The given `name`; without one, the few words before (or right after) the first code."""
    if name.strip():
        return Title(name, "name", located_words(name))
    return printed_title(text, folded, codes, numbers)


def printed_title(
    text: str,
    folded: Folded,
    codes: Sequence[Written],
    numbers: Sequence[Number],
    most: int = _MOST_WORDS,
) -> Title:
    """The words, `most` at most, before (or right after) the first code of the label itself."""
    start, end = _stretch(folded.text, codes, numbers, most)
    if start >= end:
        return Title("", "label", ())
    begin, stop = folded.span(start, end)
    shifted = tuple(
        KeyWord(word.word, word.start + begin, word.end + begin)
        for word in located_words(text[begin:stop])
    )
    return Title(text[begin:stop], "label", shifted, begin)


def _stretch(
    plain: str, codes: Sequence[Written], numbers: Sequence[Number], most: int
) -> tuple[int, int]:
    first = min([c.start for c in codes] + [n.opening for n in numbers], default=len(plain))
    line = _LINE_END.search(plain, 0, first)
    end = line.start() if line else first
    usage = _usage_word(plain, end)
    end = min(end, usage)
    item = _ITEM_NUMBER.match(plain, 0, end)
    start = item.end() if item else 0
    figure = _FIGURE.search(plain, start, end)
    if figure:
        end = figure.start()
    if _serves(plain[start:end], most):
        return start, end
    if not _WORD.search(plain[:first]) and len(codes) == 1:
        begin = codes[0].end
        stop = _PART_END.search(plain, begin)
        end = stop.start() if stop else len(plain)
        if _serves(plain[begin:end], most):
            return begin, end
    return 0, 0


def _usage_word(plain: str, end: int) -> int:
    """Where "Pigment(s)" or "C.I." begins before `end`."""
    for hit in _WORD.finditer(plain, 0, end):
        if words().get(hit.group(), ("", ""))[0] == "pigment":
            return hit.start()
    return end


def _serves(stretch: str, most: int) -> bool:
    """Few words, no figures: a name rather than a sentence or an address."""
    return 1 <= len(_WORD.findall(stretch)) <= most and not _FIGURE.search(stretch)
