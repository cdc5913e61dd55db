"""Paints and their parts as people write them: one reader for prompts, files, pages and addresses.

`PB29 1 + PW6 4`, `2 PB29, 1 PW6`, `PB29=1`, `PB29: 1`, `3 parts Fenland Ultramarine and 1 PW6`.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from tubewise.errors import UserError

_NUMBER = r"\d{1,20}(?:[.,]\d{1,4})?"
_WORD = r"(?:parts?|teile?|teil|parties|partie|partes|parte|parti)"
_JOINS = re.compile(r"\s*(?:\+|;|\n|&)\s*|,(?!\d)\s*|\s+(?:and|und|et|y|e)\s+")
# "PB15:3" is a code; after a colon only a number behind a blank is parts.
_AFTER = re.compile(
    rf"(?P<term>.+?)\s*(?:=|:\s+|\s+x?\s*|\s*×\s*)(?P<parts>{_NUMBER})\s*{_WORD}?", re.IGNORECASE
)
_BEFORE = re.compile(
    rf"(?P<parts>{_NUMBER})\s*(?:x|×)?\s*(?:{_WORD}\b)?\s*(?:of\s+|de\s+|di\s+|von\s+)?"
    r"(?P<term>(?!ml\b)[^\d\s=].*)",
    re.IGNORECASE,
)
_LETTERS_OF_A_CODE = re.compile(
    r"(?:C\.?I\.?\s*)?[PN]\.?\s?[A-Za-z]{1,2}\.?|Pigment\s+\w+", re.IGNORECASE
)
MOST_PARTS = 1000.0


@dataclass(frozen=True, slots=True)
class PartsOf:
    """A paint as it was written, and its parts; `given` says whether the parts were."""

    term: str
    parts: float
    given: bool = True


def parts_in(text: str) -> tuple[PartsOf, ...]:
    """Every paint of a text with its parts; a paint without a number is one part.

    Raises UserError for parts beyond 0 to 1000.
    """
    return tuple(map(part_of, pieces_of(text)))


def pieces_of(text: str) -> list[str]:
    """The paints of a text, each with its parts as they were written."""
    return [piece.strip() for piece in _JOINS.split(text) if piece and piece.strip()]


def part_of(piece: str) -> PartsOf:
    """One paint with its parts, either way round. Raises UserError for parts beyond 0 to 1000."""
    piece = " ".join(piece.split())
    for pattern in (_AFTER, _BEFORE):
        hit = pattern.fullmatch(piece)
        if hit is None or _splits_a_code(piece, hit):
            continue
        parts = float(hit["parts"].replace(",", "."))
        if parts > MOST_PARTS:
            raise UserError(f"write parts from 0 to {MOST_PARTS:g}", where=f"“{piece}”")
        return PartsOf(hit["term"].strip(), parts)
    if "=" in piece:
        raise UserError("write parts as a number above 0, such as PV19/gamma=2", where=f"“{piece}”")
    return PartsOf(piece, 1.0, given=False)


def _splits_a_code(piece: str, hit: re.Match[str]) -> bool:
    """Whether the number is a part of a code written apart: PB 29 is no 29 parts of PB."""
    return _LETTERS_OF_A_CODE.fullmatch(hit["term"].strip().rstrip(":")) is not None
