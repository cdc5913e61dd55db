"""What paint is bound with: the binders we know, by every usual name, and what rates them."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Final, Literal

from tubewise.pigments.tables import Faults, read_rows
from tubewise.pigments.terms import BINDERS
from tubewise.pigments.words import phrase_key

_FILE = Path(__file__).parent / "data" / "binders.csv"
_COLUMNS = ("binder", "family", "rated_as", "laid", "surface", "words", "note", "source")
# How paint is laid: a film on a ground, thick or thin; a wash on white paper; or body colour, which
# hides. common practice, no source.
Laid = Literal["film", "wash", "body"]
FILM: Final = "film"
WASH: Final = "wash"
BODY: Final = "body"
WAYS: Final[tuple[Laid, ...]] = (FILM, WASH, BODY)
WATERCOLOUR = "watercolour"
SURFACES = ("gloss", "matt")
# How alike a word must be to a known one to be offered as what was meant.
_NEAR = 0.75


@dataclass(frozen=True, slots=True, kw_only=True)
class Binder:
    """One binder.

    `family` is what it is bound with (gum-bound, oil-bound, acrylic-bound, or its own name);
    `rated_as` the column of lightfastness.csv that holds for it, "" where none does; `laid` how it
    is used, as a film, a wash or body colour; `matt` whether its dry skin has no mirror reflection;
    `words` the names it goes by in English, German, French, Spanish, Italian and Dutch.
    """

    name: str
    family: str
    rated_as: str
    laid: Laid
    matt: bool
    words: tuple[str, ...]
    note: str
    source: str


def read_binders(path: Path) -> Mapping[str, Binder]:
    """The binders of a file by their names. Raises UserError naming row and column of each fault.

    A word may stand for one binder only.
    """
    faults = Faults(path.name)
    found: dict[str, Binder] = {}
    taken: dict[tuple[str, ...], str] = {}
    for row in read_rows(path, _COLUMNS):
        name = row["binder"]
        for column in ("binder", "family", "words", "note", "source"):
            if not row[column]:
                faults.add(row, column, "must not be empty")
        if row["rated_as"] not in ("", *BINDERS):
            faults.add(row, "rated_as", f"must be one of {', '.join(BINDERS)}, or nothing")
        for column, known in (("laid", WAYS), ("surface", SURFACES)):
            if row[column] not in known:
                faults.add(row, column, f"must be one of {', '.join(known)}")
        for word in row.listed("words"):
            if taken.setdefault(phrase_key(word), name) != name:
                faults.add(row, "words", f"{word!r} stands already for {taken[phrase_key(word)]}")
        found[name] = Binder(
            name=name,
            family=row["family"],
            rated_as=row["rated_as"],
            laid=next((way for way in WAYS if way == row["laid"]), FILM),
            matt=row["surface"] == "matt",
            words=row.listed("words"),
            note=row["note"],
            source=row["source"],
        )
    faults.raise_if_any()
    return found


@lru_cache(maxsize=1)
def binders() -> Mapping[str, Binder]:
    """The binders that ship, by name, in the order of the file."""
    return read_binders(_FILE)


@lru_cache(maxsize=1)
def _by_word() -> Mapping[tuple[str, ...], str]:
    return {phrase_key(word): b.name for b in binders().values() for word in (b.name, *b.words)}


@lru_cache(maxsize=1_000)
def binder_named(text: str) -> str:
    """The binder that a word means in any of six languages: `Aquarell` is `watercolour`.

    "" for blank text. Raises ValueError with words for the person when nobody knows the word.
    """
    key = phrase_key(text)
    if not key and not text.strip():
        return ""
    known = _by_word().get(key)
    if known is not None:
        return known
    joined = {" ".join(words): name for words, name in _by_word().items()}
    near = difflib.get_close_matches(" ".join(key), joined, n=1, cutoff=_NEAR)
    hint = f"did you mean {joined[near[0]]}?" if near else f"write {_listed()}, or leave it blank"
    raise ValueError(f"“{text.strip()}” is no medium we know; {hint}")


def _listed() -> str:
    names = list(binders())
    return ", ".join(names[:-1]) + f" or {names[-1]}"


def _known(medium: str) -> Binder | None:
    try:
        name = binder_named(medium)
    except ValueError:
        return None
    return binders()[name] if name else None


def laid_as(medium: str) -> Laid:
    """How paint of a medium is used: a film, a wash or body colour; a film where nobody knows."""
    binder = _known(medium)
    return binder.laid if binder else FILM


def is_matt(medium: str) -> bool:
    """Whether a medium dries without gloss; not where nobody knows it."""
    binder = _known(medium)
    return binder is not None and binder.matt


def is_oil(medium: str) -> bool:
    """Whether a medium is bound in a drying oil; not where nobody knows it."""
    binder = _known(medium)
    return binder is not None and binder.family == "oil-bound"


def rated_as(binder: str) -> str:
    """The column of ratings that holds for a binder by any of its names; "" where none does."""
    known = _known(binder)
    return known.rated_as if known else ""
