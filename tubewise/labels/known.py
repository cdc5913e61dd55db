"""The register as the label reader uses it: quick look-ups, built once for each register."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from typing import TYPE_CHECKING

from tubewise.labels.fold import plain
from tubewise.labels.vocabulary import key_words

if TYPE_CHECKING:
    from tubewise.pigments.pigment import Pigment
    from tubewise.pigments.register import Register

Phrase = tuple[str, ...]
_REMARK = re.compile(r"\([^)]*\)")


@dataclass(frozen=True, slots=True)
class Known:
    """Codes, constitution numbers and the words that reveal a form."""

    register: Register
    pigments: Mapping[str, Pigment]
    numbers: Mapping[str, tuple[str, ...]]
    suffixed: Mapping[str, tuple[str, ...]]
    phrases: Mapping[str, tuple[tuple[Phrase, str], ...]]
    first_words: Mapping[str, frozenset[str]]
    own_names: Mapping[str, tuple[Phrase, ...]]

    def has_suffixes(self, code: str) -> bool:
        """Whether the code has relatives with a suffix (PB15 has PB15:3)."""
        return code in self.suffixed

    def is_named(self, code: str, key: Phrase) -> bool:
        """Whether key words hold one of the code's own names, as "perylene vermilion" of PR123."""
        return any(
            key[i : i + len(phrase)] == phrase
            for phrase in self.own_names.get(code, ())
            for i in range(len(key) - len(phrase) + 1)
        )

    def is_form_word(self, code: str, word: str) -> bool:
        """Whether the folded word alone names a form of the code (or begins such a phrase)."""
        base = code if code in self.first_words else code.partition(":")[0]
        allowed = self.first_words.get(base, frozenset())
        return any(part in allowed for part in (word.lower(), *key_words(word)))


def _phrases(pigment: Pigment) -> tuple[tuple[Phrase, str], ...]:
    found: dict[Phrase, str] = {}
    for form in pigment.forms:
        for words in (form.name, *form.label_words):
            phrase = key_words(words)
            if phrase:
                found.setdefault(phrase, form.name)
    return tuple(sorted(found.items(), key=lambda entry: (-len(entry[0]), entry[0])))


def _own_names(pigment: Pigment) -> tuple[Phrase, ...]:
    """The pigment's names of two words or more, without remarks in brackets."""
    phrases = (key_words(_REMARK.sub("", name)) for name in pigment.names)
    return tuple(phrase for phrase in phrases if len(phrase) > 1)


@lru_cache(maxsize=4)
def _build(key: _ByIdentity) -> Known:
    register = key.register
    pigments = {pigment.code: pigment for pigment in register}
    numbers: dict[str, list[str]] = {}
    suffixed: dict[str, list[str]] = {}
    for code, pigment in pigments.items():
        base, mark, _ = code.partition(":")
        if mark:
            suffixed.setdefault(base, []).append(code)
        for number in pigment.constitutions:
            numbers.setdefault(number, []).append(code)
    phrases = {code: _phrases(pigment) for code, pigment in pigments.items() if pigment.forms}
    first_words = {
        code: frozenset(
            [phrase[0] for phrase, _ in entries]
            + [plain(form.name).lower() for form in pigments[code].forms]
        )
        for code, entries in phrases.items()
    }
    return Known(
        register,
        pigments,
        {number: tuple(codes) for number, codes in numbers.items()},
        {base: tuple(codes) for base, codes in suffixed.items()},
        phrases,
        first_words,
        {code: _own_names(pigment) for code, pigment in pigments.items()},
    )


class _ByIdentity:
    """Makes any register usable as a cache key, equal only to itself."""

    __slots__ = ("register",)

    def __init__(self, register: Register) -> None:
        self.register = register

    def __hash__(self) -> int:
        return id(self.register)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _ByIdentity) and other.register is self.register


@lru_cache(maxsize=1)
def _shipped() -> Known:
    from tubewise.pigments.register import load

    return _build(_ByIdentity(load()))


def known(register: Register | None = None) -> Known:
    """Look-ups for `register`, or for the built-in one."""
    return _shipped() if register is None else _build(_ByIdentity(register))


@lru_cache(maxsize=1)
def _usual() -> Mapping[str, str]:
    source = resources.files("tubewise.labels").joinpath("data/usual_numbers.csv")
    rows = csv.DictReader(source.read_text(encoding="utf-8").splitlines())
    return {row["number"]: row["code"] for row in rows}


def usual_code(number: str) -> str:
    """The code that a constitution number shared by several mostly stands for; "" if unknown."""
    return _usual().get(number, "")
