"""Find known phrases in what a maker prints, whatever the case, accents and hyphens."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Mapping
from typing import NamedTuple, TypeVar

T = TypeVar("T")

# Combining marks count as part of the letter before them; composing first would shift the spans.
_PRINTED_WORD = re.compile(r"(?:[^\W_][\u0300-\u036f]*)+")
# German and Dutch write "tone of" as one word with the colour: Kadmiumrotton, cadmiumroodtint.
_COMPOUND_ENDINGS = ("farbton", "ton", "tint", "imit")


class Word(NamedTuple):
    """A word folded for comparison, with where it stands in the text as printed."""

    folded: str
    start: int
    end: int


def fold(word: str) -> str:
    """Return `word` without case and accents: `Céruléum` gives `ceruleum`, `weiß` gives `weiss`."""
    if word.isascii():
        return word.lower()
    decomposed = unicodedata.normalize("NFKD", word.casefold())
    return "".join(letter for letter in decomposed if not unicodedata.combining(letter))


def words_of(text: str) -> list[Word]:
    """Return the words of `text`, folded, each with its span in `text`."""
    return [
        Word(fold(found.group()), found.start(), found.end())
        for found in _PRINTED_WORD.finditer(text)
    ]


def phrase_key(phrase: str) -> tuple[str, ...]:
    """Return the folded words of `phrase`: what `find_phrases` looks up."""
    return tuple(fold(word) for word in _PRINTED_WORD.findall(phrase))


def find_phrases(
    text: str, phrases: Mapping[tuple[str, ...], T], longest: int | None = None
) -> Iterator[tuple[T, tuple[int, int]]]:
    """Yield each known phrase in `text` with its span, from the left, the longest winning.

    `phrases` maps folded words (`phrase_key`) to anything. Phrases found do not overlap, so a
    text with "cobalt green" never yields "cobalt". `longest`, the words of the longest phrase, is
    found here when it is not given; who asks of many texts gives it.
    """
    words = words_of(text)
    if longest is None:
        longest = max((len(key) for key in phrases), default=0)
    first = 0
    while first < len(words):
        for count in range(min(longest, len(words) - first), 0, -1):
            key = tuple(word.folded for word in words[first : first + count])
            value = phrases.get(key)
            if value is None:
                value = phrases.get((*key[:-1], _without_ending(key[-1])))
            if value is not None:
                yield value, (words[first].start, words[first + count - 1].end)
                first += count
                break
        else:
            first += 1


def _without_ending(word: str) -> str:
    for ending in _COMPOUND_ENDINGS:
        if len(word) > len(ending) + 4 and word.endswith(ending):
            return word[: -len(ending)]
    return word
