"""Colour Index constitution numbers: `(51319)`, `CI 77007`, `C.I. 77891, 77492`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.labels.codes import Written, introduces_pigments
from tubewise.labels.known import Known

_INDEX = (
    r"(?:(?<![A-Z0-9])C\.? ?I\.?|COLOU?R[ -]?INDEX)"
    r"(?:[ -]*(?:CONSTITUTION|CONST|NUMBER|NUMBERS|NO|NR|NOS)\b\.?)*[ .:#-]*"
)
_NUMBER = re.compile(
    rf"(?:(?P<index>{_INDEX})|(?<![\dA-Z.]))(?P<number>\d{{5,6}}(?::\d{{1,2}})?)(?![\dA-Z]|[.,]\d|-\d)"
)
_CONSTITUTION_WORD = re.compile(r"\bCONSTITUTION(?: (?:NUMBER|NO)\.?)?[ :]*$")
_ONWARD = re.compile(r"[ \n]*[,;/&+|][ \n]*$")
_TIGHT = re.compile(r"[ \n]*[(\[,;:/=-]*[ \n]*$")
_BACK = re.compile(r"[ \n]*[)\],;:/=-]*[ \n]*[(\[]?[ \n]*(?:C\.? ?I\.?[ ]*)?$")
_NOTHING_ELSE = re.compile(r"[\s\d,;:/&+.()\[\]]*")
_LISTED = re.compile(r"[,;/+&\n]")
_FAR = 60


@dataclass(frozen=True, slots=True)
class Number:
    """A constitution number in folded text; `marked` if printed after "C.I." or in a list of it."""

    number: str
    start: int
    end: int
    opening: int
    marked: bool
    bracketed: bool


def find_numbers(text: str, codes: Sequence[Written], known: Known) -> list[Number]:
    """Numbers that are constitution numbers by their mark, their brackets or their neighbours."""
    found: list[Number] = []
    for hit in _NUMBER.finditer(text):
        start, end = hit.span("number")
        number = hit["number"]
        if number not in known.numbers and ":" in number:
            number = number.partition(":")[0]
        marked = hit["index"] is not None or bool(
            _CONSTITUTION_WORD.search(text, max(0, start - 40), start)
        )
        if not marked and found and found[-1].marked:
            gap = text[found[-1].end : start]
            marked = bool(_ONWARD.fullmatch(gap)) or (not gap.strip() and number in known.numbers)
        bracketed = text[start - 1 : start] in ("(", "[") and text[end : end + 1] in (")", "]", ",")
        entry = Number(number, start, end, hit.start(), marked, bracketed)
        if marked or _stands_as_number(text, entry, codes, known, found):
            found.append(entry)
    return found


def _stands_as_number(
    text: str, entry: Number, codes: Sequence[Written], known: Known, found: Sequence[Number]
) -> bool:
    listed = entry.number in known.numbers
    before = [code for code in codes if code.end <= entry.start]
    if before and _TIGHT.fullmatch(text, before[-1].end, entry.start):
        return listed or entry.bracketed
    if not listed:
        return False
    if found and _ONWARD.fullmatch(text, found[-1].end, entry.start):
        return True
    after = [code for code in codes if code.start >= entry.end]
    if after and _BACK.fullmatch(text, entry.end, after[0].start):
        return True
    if entry.bracketed:
        return True
    if _NOTHING_ELSE.fullmatch(text, 0, entry.start):
        return bool(_NOTHING_ELSE.fullmatch(text, entry.end))
    return introduces_pigments(text[max(0, entry.start - 100) : entry.start])


def attach(
    text: str, numbers: Sequence[Number], codes: Sequence[Written], known: Known
) -> tuple[dict[int, list[Number]], list[Number]]:
    """Numbers by the index of the code they belong to, and those that stand alone."""
    owned: dict[int, list[Number]] = {}
    alone: list[Number] = []
    for number in numbers:
        owner = _owner(text, number, codes, known, owned)
        if owner is None:
            alone.append(number)
        else:
            owned.setdefault(owner, []).append(number)
    return owned, alone


def _is_of_its_own(
    text: str,
    number: Number,
    codes: Sequence[Written],
    known: Known,
    before: int | None,
    after: int | None,
) -> bool:
    """Whether a list's mark parts a number from the codes, so that it declares another pigment.

    "Iron oxide (77491), PB29" holds two pigments; "PBk7, CI 42090" a pigment and a dye.
    """
    if before is not None:
        gap = text[codes[before].end : number.opening]
        return number.marked and number.number not in known.numbers and bool(_LISTED.search(gap))
    if after is None or number.number not in known.numbers:
        return False
    named = re.search(r"[A-Z]{3}", text[: number.opening]) is not None
    return named and bool(_LISTED.search(text[number.end : codes[after].start]))


def _owner(
    text: str,
    number: Number,
    codes: Sequence[Written],
    known: Known,
    owned: dict[int, list[Number]],
) -> int | None:
    before = max((i for i, code in enumerate(codes) if code.end <= number.start), default=None)
    after = None if before is None and not codes else (0 if before is None else before + 1)
    if after is not None and after >= len(codes):
        after = None
    fits = [
        i
        for i, code in enumerate(codes)
        if code.known and known.pigments[code.code].agrees_with(number.number)
    ]
    for choice in (before, after):
        if choice in fits:
            return choice
    free = [i for i in fits if i not in owned]
    if fits:
        return (free or fits)[0]
    if _is_of_its_own(text, number, codes, known, before, after):
        return None
    if before is not None:
        opening = number.opening - (1 if text[number.opening - 1] in "([" else 0)
        gap = text[codes[before].end : opening]
        if _TIGHT.fullmatch(gap) or (
            before in owned and _ONWARD.fullmatch(text, owned[before][-1].end, number.start)
        ):
            return before
    if after is not None and _BACK.fullmatch(text, number.end, codes[after].start):
        return after
    if before is not None and number.marked and number.start - codes[before].end < _FAR:
        return before
    return None
