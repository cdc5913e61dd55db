"""Sets sold as one thing: "12-colour set", which says nothing of what lies in it."""

from __future__ import annotations

import re
from collections.abc import Iterable

from tubewise import labels
from tubewise.tubes.folded import folded
from tubewise.tubes.tube import Tube

# common practice, no source: how sets are called in five languages.
_SET = re.compile(
    r"\b(?:sets?|kit|starter|basic colou?rs|introductory|sortiment|grundsortiment|kasten|"
    r"farbkasten|malkasten|farbset|starterset|coffret|assortiment|assortment|bo[iî]te|estuche|"
    r"surtido|juego|confezione|cofanetto|assortimento)\b",
    re.IGNORECASE,
)
_COUNT = re.compile(
    r"^\W*\d{1,3}\s*(?:x\s*)?(?:colou?rs?|tubes?|pans?|farben|tuben|couleurs|colores|tubos|colori|"
    r"tubetti)\W*$",
    re.IGNORECASE,
)
# The column of a catalogue that says in which sets a tube is sold.
COLUMN = "set"


def is_set(tube: Tube) -> bool:
    """Whether a tube's words name a set and no pigment."""
    words = f"{tube.name} {tube.label}"
    named = _SET.search(words) or _COUNT.match(tube.name or tube.label)
    return bool(named) and not labels.read(words).pigments


def sold_in(name: str, catalogue: Iterable[Tube]) -> tuple[Tube, ...]:
    """The tubes that a catalogue says are sold in the set of a name; none where it says nothing."""
    wanted = folded(name)
    return tuple(
        tube
        for tube in catalogue
        if any(
            wanted == folded(part)
            for key, text in tube.extra.items()
            if folded(key) in (COLUMN, "sets")
            for part in text.split(";")
        )
    )
