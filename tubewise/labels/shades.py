"""Shade words against codes: "red shade" on PB15:3, which is the green shade of phthalo blue."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from itertools import pairwise

from tubewise.labels.vocabulary import words

# Initials by which shades are printed in English: RS, G.S.
_INITIALS = {"r": "red", "g": "green", "y": "yellow", "b": "blue"}


@dataclass(frozen=True, slots=True)
class Shade:
    """A shade that a name gives, and the codes that are sold as such."""

    lean: str
    usual: tuple[str, ...]


@lru_cache(maxsize=1)
def _table() -> Mapping[tuple[str, str], tuple[str, ...]]:
    """(lean, code that contradicts it) -> the codes usually meant, from `data/shades.csv`."""
    source = resources.files("tubewise.labels").joinpath("data/shades.csv")
    rows = csv.DictReader(source.read_text(encoding="utf-8").splitlines())
    return {
        (row["lean"], code): tuple(row["usual"].split("|"))
        for row in rows
        for code in row["contradicts"].split("|")
    }


@lru_cache(maxsize=1)
def _marks() -> frozenset[str]:
    return frozenset(means for means, role in words().values() if role == "shade-mark")


def leans(key: Sequence[str], own: str) -> frozenset[str]:
    """The hues that a name's key words say the paint leans to; `own` is its own hue."""
    marks = {*_marks(), "hue"}
    found = {
        a if a in _INITIALS.values() else b
        for a, b in pairwise(key)
        if (b in marks and a in _INITIALS.values()) or (a in marks and b in _INITIALS.values())
    }
    found |= {_INITIALS[a] for a, b in pairwise(key) if a in _INITIALS and b == "s"}
    found |= {_INITIALS[w[0]] for w in key if len(w) == 2 and w[0] in _INITIALS and w[1] == "s"}
    # "Phthalo blue reddish": the hue behind its own is the way it leans.
    for a, b in pairwise(key):
        if a == own and b in _INITIALS.values():
            found.add(b)
    return frozenset(found - {own})


def contradicted(code: str, own: str, key: Sequence[str]) -> Shade | None:
    """The shade that a name gives and `code`, of hue `own`, is not; None where nothing is amiss."""
    for lean in sorted(leans(key, own)):
        usual = _table().get((lean, code))
        if usual is not None:
            return Shade(lean, usual)
    return None
