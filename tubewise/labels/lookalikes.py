"""What is printed like a code and is mostly something else: price groups, numbers, notes.

`PG 4` behind a pigment is a shop's price group (German Preisgruppe), `Nr. 4` and `no 20` are
numbers, `N.B. 1` is a note. All common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

_PRICE_GROUP = re.compile(r"P\.?G\.? \d")
# The greens that painters know are seldom meant as groups, which go from 1 to 9.
_USUAL_GREENS = ("7", "8")
_NUMBER_WORD = re.compile(r"N[ROB](?![RK])")
_FIELD = re.compile(r"(?:PIGM[A-Z]*(?:\([A-Z]+\))?|C\.? ?I\.?)[ .:]*$")
_CODE_AHEAD = re.compile(r"P[. ]?(?:BK|BR|[YORVBGWM])[. ]?\d")
_PARTS = ";|\n"
_JOINS = "+&/"


class Stretch(Protocol):
    """A code that was read before, by its place."""

    @property
    def start(self) -> int:
        """Where it begins."""
        ...

    @property
    def end(self) -> int:
        """Where it ends."""
        ...


@dataclass(frozen=True, slots=True)
class Lookalike:
    """What else a stretch may be, and whether it is read as a pigment all the same."""

    may_be: str
    read: bool


def lookalike(
    text: str,
    start: int,
    end: int,
    last: Sequence[Stretch],
    printed: Callable[[int, int], str],
) -> Lookalike | None:
    """What else the code at `start:end` of folded `text` may be; None where it is a pigment.

    `last` holds the codes read before it; `printed` gives a stretch as it was printed.
    """
    if _PRICE_GROUP.fullmatch(text, start, end):
        return _price_group(text, start, end, last) if last else _opening(text, start, end)
    if text[start] == "N":
        return _number_or_note(text, start, end, last, printed)
    return None


def _price_group(text: str, start: int, end: int, last: Sequence[Stretch]) -> Lookalike | None:
    before = text[last[-1].start : last[-1].end]
    between = text[last[-1].end : start]
    alike = " " in before and "." not in before
    parted = any(mark in between for mark in _PARTS)
    usual = text[end - 1] in _USUAL_GREENS
    joined = any(mark in between for mark in _JOINS) or between.strip().isalpha()
    if joined or (usual and (alike or not parted)):
        return None
    goes_on = _goes_on(text, last, between)
    return Lookalike("a price group", read=usual or goes_on or (alike and not parted))


def _goes_on(text: str, last: Sequence[Stretch], between: str) -> bool:
    """Whether the pigment field's list goes on here, parted by the same mark as before."""
    if len(last) < 2 or _FIELD.search(text[: last[0].start]) is None:
        return False
    return text[last[-2].end : last[-1].start].strip() == between.strip()


def _opening(text: str, start: int, end: int) -> Lookalike | None:
    """A price group before the pigments: "PG. 4, PB29", never right behind the pigment field."""
    usual = text[end - 1] in _USUAL_GREENS
    dotted = text[start:end].startswith("PG.")
    if _FIELD.search(text[:start]) or (usual and not dotted):
        return None
    return Lookalike("a price group", read=not dotted) if _CODE_AHEAD.search(text, end) else None


def _number_or_note(
    text: str,
    start: int,
    end: int,
    last: Sequence[Stretch],
    printed: Callable[[int, int], str],
) -> Lookalike | None:
    """Natural dyes print as NR9 or N.R. 9; with a gap they look like a number or a note."""
    written = text[start:end]
    if _NUMBER_WORD.match(written.replace(".", "")) is None:
        return None
    dotted = written[1:2] == "."
    note = written.replace(".", "").startswith("NB")
    if written[2:3].isdigit() or (dotted and not note):
        return None
    if printed(start, end)[:2].isupper() and _follows_field(text, start, last):
        return Lookalike("a number", read=True)
    return Lookalike("a note" if note else "a number", read=False)


def _follows_field(text: str, start: int, last: Sequence[Stretch]) -> bool:
    """Whether the pigment field itself stands right before: "Pigment: NR 9"."""
    opening = last[-1].end if last else 0
    return _FIELD.search(text[opening:start]) is not None
