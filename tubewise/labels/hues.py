"""Whether declared pigments can give the colour that a paint's name says."""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from importlib import resources
from itertools import pairwise

from tubewise.labels.vocabulary import KeyWord, words

# Colours said by a single pigment of each hue family: the family itself and its near neighbours,
# wide on purpose, since a false alarm costs more trust than a missed oddity.
_SINGLE: Mapping[str, frozenset[str]] = {
    "yellow": frozenset({"yellow", "gold"}),
    "orange": frozenset({"orange", "yellow", "red", "scarlet", "brown", "gold", "bronze"}),
    "red": frozenset({"red", "scarlet", "crimson", "pink", "magenta", "violet", "brown"}),
    "violet": frozenset({"violet", "magenta", "crimson", "pink", "red"}),
    "blue": frozenset({"blue", "turquoise", "cyan"}),
    "green": frozenset({"green", "turquoise"}),
    "brown": frozenset({"brown", "orange", "red", "yellow", "gold", "bronze"}),
    "black": frozenset({"black", "grey"}),
    "white": frozenset({"white"}),
    "metallic": frozenset({"gold", "silver", "bronze", "metal", "white", "grey", "yellow"}),
}
_FAMILIES = {
    "Y": "yellow", "O": "orange", "R": "red", "V": "violet", "B": "blue", "G": "green",
    "Br": "brown", "Bk": "black", "W": "white", "M": "metallic",
}  # fmt: skip
_WARM = frozenset({"yellow", "orange", "red", "brown"})
# After these the word before says which way a colour leans, not what it is: "green shade".
_LEANING = "shade-mark"


@lru_cache(maxsize=1)
def aliases() -> Mapping[str, frozenset[str]]:
    """Colours under which a code is sold besides its hue family, from `data/hue_aliases.csv`."""
    source = resources.files("tubewise.labels").joinpath("data/hue_aliases.csv")
    rows = csv.DictReader(source.read_text(encoding="utf-8").splitlines())
    return {row["code"]: frozenset(row["also_sold_as"].split("|")) for row in rows}


@lru_cache(maxsize=1)
def _hue_words() -> Mapping[str, str]:
    return {means: role for means, role in words().values() if role in ("hue", "tint")}


@lru_cache(maxsize=1)
def _leaning_words() -> frozenset[str]:
    return frozenset(means for means, role in words().values() if role == _LEANING)


def said_hues(found: Sequence[KeyWord]) -> tuple[KeyWord, ...]:
    """The colour words of a name, without those that only say its leaning."""
    marks = _leaning_words()
    hues = [word for word in found if word.word in _hue_words()]
    firm = [
        word
        for word in hues
        if not any(other.word in marks and follower is word for follower, other in pairwise(found))
    ]
    return tuple(firm)


def family(code: str, hue: str = "") -> str:
    """Hue family of a code: the register's, or by the code's letters."""
    if hue:
        return hue
    letters = code[1:3] if code[1:3] in ("Br", "Bk") else code[1:2]
    return _FAMILIES.get(letters, "")


def possible_hues(pigments: Iterable[tuple[str, str]]) -> frozenset[str]:
    """Colour words that pigments, given as (code, hue family), can earn alone or mixed."""
    entries = [(code, family(code, hue)) for code, hue in pigments]
    found: set[str] = set()
    for code, hue in entries:
        found |= _SINGLE.get(hue, frozenset())
        found |= aliases().get(code.partition(":")[0], frozenset())
    hues = {hue for _, hue in entries}
    if "white" in hues and len(hues) > 1:
        found.discard("white")
        found |= {"grey"} if len(hues) > 2 or "black" in hues else set()
        if len(hues) > 1:
            found |= {"white"}
    warm = hues & _WARM
    cool = {"blue", "green", "violet"} & hues
    if {"blue", "black"} & hues and warm & {"yellow", "orange", "brown"}:
        found.add("green")
    if "green" in hues and warm & {"yellow", "orange", "brown"}:
        found |= {"green", "yellow", "gold"}
    if {"red", "orange", "brown", "violet"} & hues and "yellow" in hues:
        found |= {"orange", "red", "gold", "brown", "scarlet"}
    if {"red", "violet"} & hues and {"blue", "violet"} & hues:
        found |= {"violet", "blue", "magenta", "crimson"}
    if "green" in hues and "blue" in hues:
        found |= {"green", "blue", "turquoise", "cyan"}
    if "green" in hues and "violet" in hues:
        found |= {"blue", "violet"}
    if (warm and (cool or "black" in hues)) or len(hues - {"white"}) > 2:
        found |= {"brown", "grey", "black", "bronze"}
    if len(hues - {"white"}) > 1:
        found |= {"grey", "black", "gold", "bronze", "silver"}
    if "white" in hues and warm | ({"violet"} & hues):
        found |= {"pink", "yellow"} if warm & {"orange", "red", "brown"} else {"pink"}
    if "white" in hues:
        found |= {"silver"}
    if "metallic" in hues:
        found |= {"gold", "silver", "bronze"}
    return frozenset(found)
