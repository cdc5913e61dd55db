"""Which codes a doubtful stretch of print may stand for."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from typing import Final

from tubewise.labels.known import known
from tubewise.labels.photo.lines import Sign
from tubewise.labels.reader import read

SURE: Final = 0.93  # a sign below this probability is doubted
MOST: Final = 6
_TRIES: Final = 400
# Signs that print and light make alike; the reader's own second thoughts come first.
_ALIKE: Final = {
    "0": "O68", "O": "0", "1": "I7l", "I": "1", "l": "1", "2": "Z7", "3": "85", "4": "1",
    "5": "S36", "6": "58G", "7": "12", "8": "B36", "9": "48", "B": "8RG", "R": "BP", "G": "6OB",
    "V": "YW", "Y": "V", "W": "V", "k": "r", "r": "k",
}  # fmt: skip


def codes_in(text: str) -> tuple[str, ...]:
    """The codes that the label reader finds in a text of its own."""
    return read(text).codes


def doubtful(signs: Sequence[Sign]) -> list[int]:
    """Places of signs that may be something else; gaps and points don't tell codes apart."""
    return [
        place
        for place, sign in enumerate(signs)
        if (sign.probability < SURE and (sign.character.isalnum() or sign.character == ":"))
        or any(other.isalnum() and chance > 1 - SURE for other, chance in sign.others)
    ]


def candidates(signs: Sequence[Sign], *, every: bool = False) -> tuple[str, ...]:
    """Register codes that the stretch may mean, the likeliest first, by the signs' alternatives.

    Only doubtful signs are varied, or with `every` also sure ones, as in what is no code at all.
    """
    places = range(1, len(signs)) if every else doubtful(signs)
    where = sorted(places, key=lambda place: signs[place].probability)[:4]
    choices: list[list[tuple[str, float]]] = []
    for place, sign in enumerate(signs):
        own = [(sign.character, sign.probability)]
        if place in where:
            own += [(c, p) for c, p in sign.others if not c or c.isalnum() or c == ":"]
            seen = {c for c, _ in own}
            own += [(c, 0.002) for c in _ALIKE.get(sign.character, "") if c not in seen]
        choices.append(own[:7])
    ranked: dict[str, float] = {}
    for tried in itertools.islice(itertools.product(*choices), _TRIES):
        chance = 1.0
        for _, probability in tried:
            chance *= probability
        for code in codes_in("Pigments: " + "".join(c for c, _ in tried)):
            if code in known().pigments:
                ranked[code] = max(ranked.get(code, 0.0), chance)
    return tuple(sorted(ranked, key=lambda code: -ranked[code]))[:MOST]
