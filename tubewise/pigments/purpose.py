"""What a paint is wanted for: practice, or pictures that are sold and must last."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from tubewise.errors import UserError
from tubewise.pigments.words import phrase_key

PurposeName = Literal["practice", "sale"]
CATEGORIES = ("I", "II", "III", "IV", "V")
# What pictures for sale ask where nothing else is said. common practice, no source.
LASTING = "II"

_WORDS: Mapping[PurposeName, str] = {
    "practice": "practice|practise|study|sketch|sketches|class|exercise|Übung|Uebung|Studie"
    "|exercice|étude|práctica|practica|estudio|ejercicio|esercizio|studio|pratica|oefening",
    "sale": "sale|for sale|sales|sell|exhibition|commission|permanent|Verkauf|zum Verkauf"
    "|Ausstellung|vente|à vendre|venta|para la venta|vendita|in vendita|verkoop",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Purpose:
    """What the paint is for; `at_least` is the lowest category that will do, "" for any."""

    name: PurposeName = "practice"
    at_least: str = ""

    def takes(self, category: str) -> bool:
        """Whether a category of lightfastness will do."""
        if not self.at_least:
            return True
        within = CATEGORIES[: CATEGORIES.index(self.at_least) + 1]
        return category in within


PRACTICE = Purpose()
SALE = Purpose(name="sale", at_least=LASTING)


def purpose_named(text: str) -> Purpose:
    """A purpose in a person's words: `practice`, `sale`, `sale III`, `Verkauf`; blank is practice.

    Raises ValueError with words for the person.
    """
    words = text.split()
    category = words[-1].upper() if words and words[-1].upper() in CATEGORIES else ""
    key = phrase_key(" ".join(words[:-1] if category else words))
    if not key and not category:
        if text.strip():
            raise ValueError(_unknown(text))
        return PRACTICE
    for name, known in _WORDS.items():
        if key in map(phrase_key, known.split("|")):
            standard = LASTING if name == "sale" else ""
            return Purpose(name=name, at_least=category or standard)
    raise ValueError(_unknown(text))


def purpose_typed(text: str) -> Purpose:
    """The same for who typed it at a prompt: UserError for an unknown purpose."""
    try:
        return purpose_named(text)
    except ValueError as error:
        raise UserError(str(error)) from None


def _unknown(text: str) -> str:
    return (
        f"“{text.strip()}” is no purpose we know; write practice or sale, or sale I for the most "
        "lasting category alone"
    )
