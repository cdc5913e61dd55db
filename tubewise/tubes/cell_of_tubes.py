"""Several tubes in one cell, as forms export them: a person a row, the tubes in a list."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from tubewise import labels
from tubewise.tables.headers import heading
from tubewise.tubes.tube import Tube

TUBES: Final = "tubes"
# Words of headings over such a cell, in five languages: common practice, no source.
_OF_TUBES = re.compile(
    r"\b(?:tubes|paints|colou?rs|palette|my box|box|tuben|farben|farbkasten|malkasten|couleurs|"
    r"peintures|tubos|colores|pinturas|tubetti|colori)\b"
)
_FIRST_OF_SEVERAL = re.compile(r"(?:tube|paint|colou?r|farbe|couleur|tubo|color|colore|tubetto) ?1")
_FURTHER = re.compile(r"(?:tube|paint|colou?r|farbe|couleur|tubo|color|colore|tubetto) ?\d+")
_OF_PERSON = re.compile(
    r"\b(?:your name|name|vorname|nom|prenom|nombre|nome|who|wer|qui|seat|platz)\b"
)
_BULLET = re.compile(r"^\s*(?:[-–•*·]|\d{1,2}[.)])\s*")
_NOTHING = re.compile(
    r"^\W*(?:none|nothing|no tubes|nichts|keine?|rien|aucune?|nada|ninguno|niente|nessuno|n/?a)?"
    r"\W*$",
    re.IGNORECASE,
)
_LINES = re.compile(r"[\n\r]+|;")
_COMMAS = re.compile(r",(?!\d)|\s+(?:and|und|et|y|e|&)\s+")


class BoxHeadings(dict[str, str]):
    """Headings of a file of boxes; a form's question about tubes or names is known by its words."""

    def __init__(self, names: Mapping[str, str]) -> None:
        super().__init__(names)

    def get(self, key: str, default: str = "") -> str:  # type: ignore[override]
        """Our column for a heading; `default` for one that says nothing."""
        known = super().get(key)
        if known is not None:
            return known
        if _FIRST_OF_SEVERAL.fullmatch(key):
            return TUBES
        if _FURTHER.fullmatch(key):
            return default
        if _OF_TUBES.search(key):
            return TUBES
        return "seat" if len(key.split()) > 1 and _OF_PERSON.search(key) else default


def is_further_tube(key: str) -> bool:
    """Whether an unknown column is a further tube: Tube 2, Tube 3."""
    return _FURTHER.fullmatch(heading(key)) is not None


def tubes_in(text: str) -> list[Tube]:
    """The tubes of a list: a line each, or parted by semicolons, else by commas.

    Numbers and dashes before the lines are no part of them, and "none" is no tube.
    """
    if _NOTHING.match(text):
        return []
    lines = [_BULLET.sub("", line).strip() for line in _LINES.split(text)]
    lines = [line for line in lines if line]
    if len(lines) == 1:
        lines = [part.strip() for part in _COMMAS.split(lines[0]) if part.strip()]
    return [tube_of_words(line) for line in lines]


def tube_of_words(line: str) -> Tube:
    """A tube out of the words and codes as they stand on it."""
    words = " ".join(line.split())
    reading = labels.read(words)
    first = min((p.span[0] for p in reading.pigments), default=len(words))
    return Tube(name=words[:first].strip(" ,;:-–(") or words, label=words)
