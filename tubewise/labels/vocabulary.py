"""The words of labels in ten languages, and names put into plain English key words."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

from tubewise.labels.fold import fold, plain

# Colour Index hue words as they stand in codes.
HUE_LETTERS: Mapping[str, str] = {
    "yellow": "Y", "orange": "O", "red": "R", "violet": "V", "blue": "B", "green": "G",
    "brown": "Br", "black": "Bk", "white": "W", "metal": "M",
}  # fmt: skip
USAGE_LETTERS: Mapping[str, str] = {
    "pigment": "P", "natural": "N", "basic": "B", "acid": "A", "direct": "D", "solvent": "S",
    "vat": "V",
}  # fmt: skip
_LANGUAGES = ("en", "de", "fr", "it", "es", "pt", "nl", "sv", "da", "pl")
_WORDS = re.compile(r"[A-Z0-9][A-Z0-9']*")


@lru_cache(maxsize=1)
def words() -> Mapping[str, tuple[str, str]]:
    """Folded word -> (English key word, role), from `data/words.csv`; the first row wins."""
    found: dict[str, tuple[str, str]] = {}
    source = resources.files("tubewise.labels").joinpath("data/words.csv")
    for row in csv.DictReader(source.read_text(encoding="utf-8").splitlines()):
        for language in _LANGUAGES:
            for word in filter(None, row[language].split("|")):
                found.setdefault(plain(word), (row["means"], row["role"]))
                # German, Swedish and Danish letters are also written out or dropped.
                spelled = word.lower().translate(_SPELLED_OUT)
                if spelled != word.lower():
                    found.setdefault(plain(spelled), (row["means"], row["role"]))
    return found


_SPELLED_OUT = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe", "æ": "ae"})


def words_meaning(role: str, means: str | None = None) -> tuple[str, ...]:
    """Folded words of one role (and one meaning), the longest first."""
    chosen = (w for w, (m, r) in words().items() if r == role and means in (None, m))
    return tuple(sorted(chosen, key=lambda word: (-len(word), word)))


@lru_cache(maxsize=8192)
def _parts(token: str) -> tuple[str, ...] | None:
    """English key words of one folded token, compounds taken apart; None if it is unknown."""
    known = words().get(token)
    if known:
        return () if known[1] == "link" else (known[0],)
    for cut in range(len(token) - 3, 2, -1):
        head = words().get(token[:cut])
        if head is None or head[1] in ("link", "usage"):
            continue
        rest = _parts(token[cut:])
        if rest:
            return (head[0], *rest)
    return None


@dataclass(frozen=True, slots=True)
class KeyWord:
    """One word in plain English, and its half-open offsets in the text it came from."""

    word: str
    start: int
    end: int


@lru_cache(maxsize=8192)
def located_words(name: str) -> tuple[KeyWord, ...]:
    """A paint name's words in order, lower case, in English wherever we know the word.

    `Kadmiumrot dunkel` -> cadmium, red, deep. Unknown words stay as they are, folded.
    """
    folded = fold(name)
    found: list[KeyWord] = []
    for hit in _WORDS.finditer(folded.text):
        token = hit.group()
        pieces = (token,) if token in words() else tuple(filter(None, token.split("'")))
        start, end = folded.span(*hit.span())
        for piece in pieces:
            parts = _parts(piece)
            found += [
                KeyWord(word, start, end) for word in ((piece.lower(),) if parts is None else parts)
            ]
    return tuple(found)


def key_words(name: str) -> tuple[str, ...]:
    """The words of `located_words` without their places."""
    return tuple(found.word for found in located_words(name))
