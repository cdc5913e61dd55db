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
_SUNNY = {"yellow", "orange", "brown"}
_ROSY = {"red", "orange", "brown", "violet"}
_WARM = {"yellow", "orange", "red", "brown"}
_COOL = {"blue", "green", "violet", "black"}
# Colours that mixtures earn: one family of each set on the left gives the words on the right.
_MIXED: tuple[tuple[tuple[set[str], ...], set[str]], ...] = (
    (({"blue", "black"}, _SUNNY), {"green"}),
    (({"green"}, _SUNNY), {"yellow", "gold"}),
    (({"yellow"}, _ROSY), {"orange", "red", "scarlet", "gold", "brown"}),
    (({"red", "violet"}, {"blue", "violet"}), {"violet", "blue", "magenta", "crimson"}),
    (({"blue"}, {"green"}), {"turquoise", "cyan"}),
    (({"green"}, {"violet"}), {"blue"}),
    ((_WARM, _COOL), {"brown"}),
    (({"white"}, _ROSY), {"pink", "yellow"}),
)
# Any two colours that are not white may dull each other, or stand in for a metal.
_DULLED = {"grey", "black", "gold", "bronze", "silver"}
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
    for needed, earned in _MIXED:
        if all(hues & group for group in needed):
            found |= earned
    coloured = hues - {"white"}
    if len(coloured) > 1:
        found |= _DULLED
    if len(coloured) > 2:
        found.add("brown")
    if "white" in hues and coloured:
        found |= {"silver", "grey"} if coloured != {"metallic"} else {"silver"}
    return frozenset(found)
