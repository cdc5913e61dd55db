"""Which form of a pigment a label means: from words beside the code, or in the paint's name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tubewise.labels.known import Known
from tubewise.labels.vocabulary import words

# In the name of a mixture these words speak of the mixed colour, not of one pigment in it.
_OF_THE_MIXTURE = frozenset(
    meaning
    for meaning, role in words().values()
    if role in ("hue", "tint") or meaning in ("light", "medium", "deep", "permanent", "lemon")
)
_HALF = frozenset({"semi", "half", "halb"})
_FAST = frozenset({"fast", "fastness", "resistance", "stability"})
_RATING_WORDS = _HALF | _FAST


@dataclass(frozen=True, slots=True)
class FormFound:
    """A form and whether it is only the register's default."""

    form: str
    assumed: bool


def matching_form(code: str, key: Sequence[str], known: Known, *, mixed: bool = False) -> str:
    """The one form of `code` that key words reveal, by the longest phrase; "" if none or several.

    With `mixed`, words that may describe a mixture's colour count for nothing.
    """
    key = _without_ratings(key)
    present = frozenset(key)
    best = 0
    forms: set[str] = set()
    for phrase, form in known.phrases.get(code, ()):
        length = len(phrase)
        if length < best:
            break
        if not present.issuperset(phrase):
            continue
        if mixed and all(word in _OF_THE_MIXTURE for word in phrase):
            continue
        wanted = sorted(phrase)  # "sienna burnt" in French order is burnt sienna
        if any(sorted(key[i : i + length]) == wanted for i in range(len(key) - length + 1)):
            best = length
            forms.add(form)
    return forms.pop() if len(forms) == 1 else ""


def _without_ratings(key: Sequence[str]) -> Sequence[str]:
    """Key words without "semi-transparent" and "light fastness", which tell no form."""
    if not _RATING_WORDS.intersection(key):
        return key
    kept: list[str] = []
    for i, word in enumerate(key):
        if word in _HALF or (i and key[i - 1] in _HALF):
            continue
        if word == "light" and i + 1 < len(key) and key[i + 1] in _FAST:
            continue
        kept.append(word)
    return kept


def find_form(
    code: str,
    beside: Sequence[Sequence[str]],
    names: Iterable[Sequence[str]],
    known: Known,
    *,
    mixed: bool,
) -> FormFound:
    """The form of a known `code`: key words beside it first, then of names, then the default."""
    if code not in known.phrases:
        return FormFound("", False)
    for key in beside:
        form = matching_form(code, key, known)
        if form:
            return FormFound(form, False)
    for key in names:
        form = matching_form(code, key, known, mixed=mixed)
        if form:
            return FormFound(form, False)
    forms = tuple(known.pigments[code].forms)
    default = next((form.name for form in forms if form.default), forms[0].name)
    return FormFound(default, True)
