"""Dyes by their Colour Index names: named as dyes, with what is known of their fastness.

Inks and liquid colours are coloured with them. They are no pigments: nothing here predicts how
they mix, and in light most of them fade.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

from tubewise.labels.reading import Span

_CLASSES = "ACID|BASIC|DIRECT|DISPERSE|FOOD|MORDANT|REACTIVE|SOLVENT|VAT"
_HUES = "YELLOW|ORANGE|RED|VIOLET|BLUE|GREEN|BROWN|BLACK"
_DYE = re.compile(
    rf"(?<![A-Z])(?P<usage>{_CLASSES})[ -]+(?P<hue>{_HUES})[ -]*(?P<number>\d{{1,3}})\b"
)
_NUMBER = re.compile(r"(?<![\dA-Z.])(\d{5})(?!\d)")
_UNKNOWN = "its fastness is not known here; most dyes fade in light"


@dataclass(frozen=True, slots=True)
class Dye:
    """A dye found in folded text, by name or by constitution number, and how it lasts."""

    name: str
    fastness: str
    start: int
    end: int


@lru_cache(maxsize=1)
def _known() -> Mapping[str, tuple[str, str]]:
    """Folded name or constitution number -> the dye's name and its fastness."""
    source = resources.files("tubewise.labels").joinpath("data/dyes.csv")
    found: dict[str, tuple[str, str]] = {}
    for row in csv.DictReader(source.read_text(encoding="utf-8").splitlines()):
        for key in (row["name"], row["also"], row["constitution"]):
            if key:
                found[key.upper()] = (row["name"], row["fastness"])
    return found


def is_dye(constitution: str) -> bool:
    """Whether a constitution number is that of a dye known here."""
    return constitution.isdigit() and constitution in _known()


def find_dyes(text: str, taken: Sequence[Span]) -> list[Dye]:
    """Dyes of folded `text` outside the `taken` stretches, each once, in order."""
    found: dict[str, Dye] = {}
    for hit in sorted([*_DYE.finditer(text), *_NUMBER.finditer(text)], key=lambda h: h.start()):
        start, end = hit.span()
        if any(start < stop and end > begin for begin, stop in taken):
            continue
        if hit.re is _NUMBER:
            known = _known().get(hit[1])
            if known is None:
                continue
            name, fastness = known
        else:
            printed = f"{hit['usage']} {hit['hue']} {hit['number'].lstrip('0')}"
            name, fastness = _known().get(printed, (printed.title(), _UNKNOWN))
        found.setdefault(name, Dye(name, fastness, start, end))
    return list(found.values())
