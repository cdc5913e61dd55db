"""Which tubes a person means: by name, code, maker, line, medium, size or id, in any order.

All words must match. Words cut short and the trade's abbreviations count as the words; words that
are only near come apart, as what may have been meant.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from rapidfuzz.distance import OSA

from tubewise import labels
from tubewise.errors import UserError
from tubewise.pigments.binders import binder_named
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.tubes.paint_words import PaintWords
from tubewise.tubes.slug import slug
from tubewise.tubes.tube import Tube

# Words between others that say nothing of a paint.
_EMPTY = frozenset(("the", "a", "in", "of", "by", "from", "von", "der", "die", "das", "de", "la"))
_EMPTY |= frozenset(("le", "du", "di", "da", "del", "tube", "tubo", "paint"))
_SIZE = re.compile(r"\b(\d+(?:[.,]\d+)?)\s*ml\b", re.IGNORECASE)
# A word of so many letters may be the beginning of another.
_BEGINNING = 3
_LETTERS_FOR_ONE_SLIP, _LETTERS_FOR_TWO = 4, 8
_MOST_NAMED = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class Naming:
    """The tubes a text means, and where there is none those that are near; the best first."""

    tubes: tuple[Tube, ...] = ()
    near: tuple[Tube, ...] = ()

    @property
    def paints(self) -> tuple[Tube, ...]:
        """One tube of each paint meant: sizes of one paint are no other paint."""
        return tuple({tube.paint: tube for tube in reversed(self.tubes)}.values())[::-1]


@dataclass(frozen=True, slots=True)
class _Wish:
    """A text taken apart: codes, a medium, a size in ml, a grade, and the words that are left."""

    codes: tuple[Ref, ...]
    medium: str
    ml: float | None
    words: tuple[str, ...]


class TubeNames:
    """Tubes ready to be wish for by name; build it once for many questions."""

    def __init__(self, tubes: Iterable[Tube]) -> None:
        self._tubes = tuple(tubes)
        self._by_id = {tube.id: tube for tube in self._tubes}
        self._words = PaintWords.of({tube.name for tube in self._tubes})
        self._holding: dict[str, set[int]] = defaultdict(set)
        for at, tube in enumerate(self._tubes):
            for word in words_of(tube):
                self._holding[word].add(at)

    def meant(self, text: str) -> Naming:
        """The tubes that a text means, those whose name it is before those it is a part of."""
        own = self._by_id.get(text.strip())
        if own is not None:
            return Naming(tubes=(own,))
        wish = _taken_apart(text)
        if not (wish.words or wish.codes):
            return Naming()
        exact = self._all(wish, self._exact)
        if not exact:
            whole = _taken_apart(self._words.in_full(text))
            exact = self._all(whole, self._exact)
            wish = whole
        if exact:
            return Naming(tubes=self._ordered(exact, wish))
        return Naming(near=self._ordered(self._all(wish, self._nearly), wish)[:_MOST_NAMED])

    def _all(self, wish: _Wish, holding: Callable[[str], set[int]]) -> set[int]:
        """The positions of the tubes that match every word and everything else that is wish."""
        found: set[int] | None = None
        for word in wish.words:
            having = holding(word)
            found = having if found is None else found & having
            if not found:
                return set()
        positions = range(len(self._tubes)) if found is None else found
        return {at for at in positions if _fits(self._tubes[at], wish)}

    def _exact(self, word: str) -> set[int]:
        found = set(self._holding.get(word, ()))
        if len(word) >= _BEGINNING:
            for known, having in self._holding.items():
                if known.startswith(word):
                    found |= having
        return found

    def _nearly(self, word: str) -> set[int]:
        found = self._exact(word)
        most = 2 if len(word) >= _LETTERS_FOR_TWO else 1
        if found or len(word) < _LETTERS_FOR_ONE_SLIP:
            return found
        for known, having in self._holding.items():
            near = abs(len(known) - len(word)) <= most
            if near and OSA.distance(known, word, score_cutoff=most) <= most:
                found |= having
        return found

    def _ordered(self, positions: set[int], wish: _Wish) -> tuple[Tube, ...]:
        """Those whose whole name was said alone, where there are any."""
        tubes = [self._tubes[at] for at in sorted(positions)]
        named = [t for t in tubes if wish.words and _whole_name(t, wish.words)]
        return tuple(named or tubes)


def _whole_name(tube: Tube, words: Sequence[str]) -> bool:
    """Whether every word of the tube's name is among the words, whole or begun."""
    return all(any(_begins(word, own) for word in words) for own in slug(tube.name).split("-"))


def _begins(word: str, own: str) -> bool:
    return own == word or (len(word) >= _BEGINNING and own.startswith(word))


def words_of(tube: Tube) -> frozenset[str]:
    """The words by which a tube is wish for."""
    text = slug(f"{tube.maker} {tube.line} {tube.name} {tube.grade}")
    return frozenset(text.split("-")) - {""}


def _taken_apart(text: str) -> _Wish:
    reading = labels.read(text)
    rest = text
    for pigment in reversed(reading.pigments):
        start, end = pigment.span
        rest = f"{rest[:start]} {rest[end:]}"
    size = _SIZE.search(rest)
    rest = _SIZE.sub(" ", rest)
    medium = ""
    words: list[str] = []
    for word in slug(rest).split("-"):
        binder = _binder(word) if not medium else ""
        if binder:
            medium = binder
        elif word and word not in _EMPTY:
            words.append(word)
    refs = tuple(Ref.of(p.code, "" if p.form_assumed else p.form) for p in reading.pigments)
    ml = float(size[1].replace(",", ".")) if size else None
    return _Wish(refs, medium, ml, tuple(words))


def _binder(word: str) -> str:
    try:
        return binder_named(word)
    except ValueError:
        return ""


def _fits(tube: Tube, wish: _Wish) -> bool:
    """Whether the tube holds the codes wish for and is of the medium and size."""
    if wish.medium and tube.medium and tube.medium != wish.medium:
        return False
    if wish.ml is not None and tube.size_ml is not None and tube.size_ml != wish.ml:
        return False
    return all(any(_holds(ref, own) for own in tube.refs) for ref in wish.codes)


def _holds(wish: Ref, own: Ref) -> bool:
    """Whether a tube's pigment is the one wish for; a bare code means all its forms and kinds."""
    if own == wish or (not wish.form and own.code == wish.code):
        return True
    return any(pigment.code == own.code for pigment in load().suffixed(wish.code))


def tube_meant(text: str, names: TubeNames) -> Tube:
    """The one paint that a text means.

    Raises UserError with the candidates where there are several, with the nearest where none.
    """
    found = names.meant(text)
    if len(found.paints) == 1:
        return found.paints[0]
    if found.paints:
        message = (
            f"this may be {len(found.paints)} paints; add its maker, medium or code, or take an id"
        )
    else:
        message = "no tube has this id or name"
        message += "; did you mean one of these?" if found.near else ""
    offered = (found.paints or found.near)[:_MOST_NAMED]
    raise UserError(
        message,
        where=f"“{text}”",
        problems=[choice(tube) for tube in offered],
        typed=text,
        instead=[tube.id for tube in offered],
    )


def choice(tube: Tube) -> str:
    """A tube as a line one can pick from: its id, then what it is and what is in it."""
    inside = " + ".join(tube.pigments) or "no pigment declared"
    return f"{tube.id}: {', '.join(filter(None, (tube.title, tube.medium, inside)))}"


def picked(tubes: Sequence[Tube], text: str) -> list[Tube]:
    """Of tubes found, those that match every word, begun or whole; all where none does."""
    wish = _taken_apart(text)
    whole = [tube for tube in tubes if _fits(tube, wish) and _matches(tube, wish.words)]
    return whole or list(tubes)


def _matches(tube: Tube, words: Sequence[str]) -> bool:
    own = words_of(tube)
    return all(word in own or any(_begins(word, w) for w in own) for word in words)
