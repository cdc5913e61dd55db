"""Label text made plain for matching, with the way back to the characters as printed."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

from tubewise.labels.reading import Span

# Letters that Unicode does not take apart, letters of other scripts that look the same in print,
# and the Greek letters by which crystal phases are called.
_PLAIN = {
    "ø": "O", "Ø": "O", "ł": "L", "Ł": "L", "æ": "AE", "Æ": "AE", "œ": "OE", "Œ": "OE",
    "ß": "SS", "ẞ": "SS", "đ": "D", "Đ": "D", "ð": "D", "þ": "TH", "ı": "I",
    "α": "ALPHA", "β": "BETA", "γ": "GAMMA", "δ": "DELTA", "ε": "EPSILON", "ϐ": "BETA",
    "Α": "A", "Β": "B", "Ε": "E", "Ζ": "Z", "Η": "H", "Ι": "I", "Κ": "K", "Μ": "M", "Ν": "N",
    "Ο": "O", "Ρ": "P", "Τ": "T", "Υ": "Y", "Χ": "X",
    "А": "A", "В": "B", "С": "C", "Е": "E", "Н": "H", "К": "K", "М": "M", "О": "O", "Р": "P",
    "Т": "T", "Х": "X", "У": "Y", "І": "I", "а": "A", "в": "B", "с": "C", "е": "E", "к": "K",
    "о": "O", "р": "P", "х": "X", "у": "Y", "і": "I",
    "•": ",", "·": ",", "∙": ",", "●": ",", "‧": ",", "∶": ":", "ː": ":", "꞉": ":", "⁄": "/",
    "∕": "/", "−": "-", "’": "'", "‘": "'", "´": "'", "`": "'", "°": "O", "™": " ",
    "℠": " ", "\r": "\n",
    "\v": "\n", "\f": "\n", "\u0085": "\n", "\u2028": "\n", "\u2029": "\n",
}  # fmt: skip
_FOOTNOTE = "*"


@lru_cache(maxsize=4096)
def _fold_character(character: str) -> str:
    if character in _PLAIN:
        return _PLAIN[character]
    category = unicodedata.category(character)
    if category in ("Cf", "Mn", "Me", "Cs"):  # soft hyphens, joiners, marks, lone surrogates
        return ""
    if category == "Pd":
        return "-"
    if category in ("Zs", "Cc"):
        return "\n" if character == "\n" else " "
    if category == "Nd":
        return str(unicodedata.decimal(character))
    decomposition = unicodedata.decomposition(character)
    if category == "No" and decomposition.startswith(("<super>", "<circle>")):
        return _FOOTNOTE  # a raised figure after a code is a note, not part of its number
    plain = unicodedata.normalize("NFKD", character)
    if plain == character:
        return character.upper()
    return "".join(_fold_character(part) for part in plain)


@dataclass(frozen=True, slots=True)
class Folded:
    """Upper-case text without accents or odd spaces, and where each character came from."""

    text: str
    origins: Sequence[int]

    def span(self, start: int, end: int) -> Span:
        """Half-open offsets in the original of the non-empty folded stretch `start:end`."""
        return self.origins[start], self.origins[end - 1] + 1


def fold(text: str) -> Folded:
    """Fold `text`: capitals, no accents, plain spaces and dashes, Greek phase letters spelled out.

    Soft hyphens and zero-width characters vanish; raised figures become `*`. Never raises.
    """
    if text.isascii() and text.isprintable():
        return Folded(text.upper(), range(len(text)))
    characters: list[str] = []
    origins: list[int] = []
    for place, character in enumerate(text):
        for plain in _fold_character(character):
            characters.append(plain)
            origins.append(place)
    return Folded("".join(characters), origins)


def plain(text: str) -> str:
    """Only the folded text."""
    return fold(text).text
