"""A paint's name as people cut it short and misspell it, put back into the trade's words.

`cad red lt` is cadmium red light, `lemon yelow` lemon yellow, `TW` titanium white.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources

from rapidfuzz.distance import OSA

from tubewise.labels.vocabulary import words as label_words
from tubewise.pigments.register import load
from tubewise.tubes.folded import folded
from tubewise.tubes.slug import slug

_WORD = re.compile(r"[^\W\d_]+(?:'[^\W\d_]+)?")
# Shorter words are not mended: too many are one letter apart.
_LETTERS_FOR_ONE_SLIP, _LETTERS_FOR_TWO = 4, 8
_LETTERS_OF_A_NAME = 6


@lru_cache(maxsize=1)
def _short() -> Mapping[str, str]:
    """What people cut short, from `data/paint_words.csv`."""
    source = resources.files("tubewise.tubes").joinpath("data/paint_words.csv")
    rows = csv.DictReader(source.read_text(encoding="utf-8").splitlines())
    return {row["short"]: row["means"] for row in rows}


@lru_cache(maxsize=1)
def _trade_words() -> frozenset[str]:
    """Every word of the register's names and of labels, folded."""
    register = load()
    texts = [name for pigment in register for name in pigment.names]
    texts += register.promised_phrases
    found = {word for text in texts for word in _words(text)}
    found |= {word.lower() for word in label_words() if len(word) > 2}
    found |= {word for means in _short().values() for word in _words(means)}
    return frozenset(found)


def _words(text: str) -> list[str]:
    return [word.casefold() for word in _WORD.findall(text)]


def _joined(name: str) -> str:
    """A name without blanks, accents and marks, as spelling is compared."""
    return slug(name).replace("-", "")


@dataclass(frozen=True)
class PaintWords:
    """Mends names against the trade's words and the names of a catalogue."""

    known: frozenset[str]
    phrases: Mapping[str, str]

    @classmethod
    def of(cls, names: Iterable[str] = ()) -> PaintWords:
        """The trade's words and phrases, and those of `names`."""
        own = tuple(names)
        phrases = {_joined(name): name for name in (*load().promised_phrases, *own)}
        return cls(_trade_words() | {word for name in own for word in _words(name)}, phrases)

    def nearest_phrase(self, name: str) -> str:
        """The one known name so few slips away, blanks aside; "" for none or more than one."""
        wanted = _joined(name)
        if len(wanted) < _LETTERS_OF_A_NAME:
            return ""
        most = 2 if len(wanted) >= _LETTERS_FOR_TWO else 1
        far = {
            phrase: OSA.distance(phrase, wanted, score_cutoff=most)
            for phrase in self.phrases
            if phrase[:1] == wanted[:1] and abs(len(phrase) - len(wanted)) <= most
        }
        best = min(far.values(), default=most + 1)
        nearest = [phrase for phrase, distance in far.items() if distance == best <= most]
        return self.phrases[nearest[0]] if len(nearest) == 1 else ""

    def in_full(self, name: str) -> str:
        """The name with what is cut short written out, its spelling as it stands."""
        return self._written_out(name, lambda word: word)

    def mended(self, name: str) -> str:
        """The name in full words; as it stands where nothing is known to be short or wrong."""
        return self._written_out(name, self._spelt)

    def _written_out(self, name: str, spelt: Callable[[str], str]) -> str:
        plain = folded(name).strip(" .")
        whole = _short().get(plain.replace(".", ""))
        if whole is not None:
            return whole
        out = _WORD.sub(lambda hit: self._word(hit.group(), spelt), name.replace(".", " "))
        mended = " ".join(out.split())
        return _short().get(folded(mended), mended) if folded(mended) != plain else name

    def _word(self, word: str, spelt: Callable[[str], str]) -> str:
        means = _short().get(word.casefold(), "")
        return means if means.islower() and " " not in means else spelt(word)

    def _spelt(self, word: str) -> str:
        plain = word.casefold()
        if plain in self.known or len(plain) < _LETTERS_FOR_ONE_SLIP:
            return word
        return self._nearest(plain) or word

    def _nearest(self, word: str) -> str:
        """The one known word so few slips away, "" where there is none or more than one."""
        most = 2 if len(word) >= _LETTERS_FOR_TWO else 1
        best: dict[int, list[str]] = {}
        for known in self.known:
            if abs(len(known) - len(word)) > most or known[0] != word[0]:
                continue
            far = OSA.distance(known, word, score_cutoff=most)
            if far <= most:
                best.setdefault(int(far), []).append(known)
        nearest = best[min(best)] if best else []
        return nearest[0] if len(nearest) == 1 else ""
