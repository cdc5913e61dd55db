"""Tubes found by a name that is misspelt, cut short or in another order.

The names' words are few even where tubes are many. A query's words are compared with all of them;
tubes that have the nearest words are the candidates, and whole names rank those. This works alike
on every database, and finds a word with a wrong first letter, which trigrams rarely do.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import sqlalchemy as sa
from rapidfuzz import fuzz, process
from sqlalchemy.engine import Connection
from sqlalchemy.sql.elements import ColumnElement

from tubewise.store.tables import TUBE_WORDS, TUBES, WORDS
from tubewise.tubes.slug import slug

MOST_CANDIDATES = 200
_MOST_WORDS = 8
_NEAREST = 6
_SPREAD = 12.0
_BEGUN = 90.0
_WORD_CUTOFF = 68.0
_NAME_CUTOFF = 60.0


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """All words of all names in alphabetical order, as they stood at one revision of the store."""

    revision: int
    words: tuple[str, ...]
    pks: tuple[int, ...]


def words_of(*texts: str) -> tuple[str, ...]:
    """The distinct words of texts, folded as in an id."""
    return tuple(dict.fromkeys(w for text in texts for w in slug(text).split("-") if w))


def load_vocabulary(connection: Connection, revision: int) -> Vocabulary:
    """Every word of the store."""
    found = connection.execute(sa.select(WORDS.c.word, WORDS.c.pk))
    rows = sorted((row[0], row[1]) for row in found)
    return Vocabulary(revision, tuple(row[0] for row in rows), tuple(row[1] for row in rows))


def nearest_words(query: str, vocabulary: Vocabulary) -> dict[int, float]:
    """Primary keys of the words near those of the query, each with its likeness up to 100."""
    words = words_of(query)[:_MOST_WORDS]
    found: dict[int, float] = {}
    unknown = {word for word in words if _at(word, vocabulary.words) is None}
    # "ultra marine" means the one word too.
    joined = [
        a + b
        for a, b in pairwise(words)
        if a in unknown or b in unknown or _at(a + b, vocabulary.words) is not None
    ]
    for word in (*words, *joined):
        at = _at(word, vocabulary.words)
        near = {at: 100.0} if at is not None else _like(word, vocabulary.words)
        for position, score in near.items():
            pk = vocabulary.pks[position]
            found[pk] = max(found.get(pk, 0.0), score)
    return found


def _at(word: str, words: Sequence[str]) -> int | None:
    """Where the word stands among the sorted words, if it does."""
    at = bisect_left(words, word)
    return at if at < len(words) and words[at] == word else None


def _like(word: str, words: Sequence[str]) -> dict[int, float]:
    """Positions of words like a misspelt or unfinished one, with their likeness."""
    near = {
        at: score
        for _, score, at in process.extract(
            word, words, scorer=fuzz.ratio, score_cutoff=_WORD_CUTOFF, limit=_NEAREST
        )
    }
    # Words much further off than the best would only bring tubes that rank far below.
    best = max(near.values(), default=0.0)
    near = {at: score for at, score in near.items() if score >= best - _SPREAD}
    if len(word) >= 3:
        first = bisect_left(words, word)
        last = bisect_left(words, word + "\U0010ffff", lo=first)
        for at in sorted(range(first, last), key=lambda at: len(words[at]))[:_NEAREST]:
            near[at] = max(near.get(at, 0.0), _BEGUN)
    return near


def find_by_name(
    connection: Connection,
    query: str,
    vocabulary: Vocabulary,
    where: Sequence[ColumnElement[bool]],
) -> list[int]:
    """Primary keys of tubes whose name, with maker and line or without, is near; best first."""
    near = nearest_words(query, vocabulary)
    if not near:
        return []
    likeness = sa.case(
        *((TUBE_WORDS.c.word_pk == pk, score * score) for pk, score in near.items()), else_=0.0
    )
    candidates = (
        sa.select(TUBE_WORDS.c.tube_pk)
        .where(TUBE_WORDS.c.word_pk.in_(list(near)))
        .group_by(TUBE_WORDS.c.tube_pk)
        .order_by(sa.func.sum(likeness).desc(), sa.func.min(TUBE_WORDS.c.among))
        .limit(MOST_CANDIDATES)
    )
    if where:
        candidates = candidates.join(TUBES, TUBES.c.pk == TUBE_WORDS.c.tube_pk).where(*where)
    rows = connection.execute(
        sa.select(TUBES.c.pk, TUBES.c.maker, TUBES.c.line, TUBES.c.name).where(
            TUBES.c.pk.in_(candidates.scalar_subquery())
        )
    )
    words = " ".join(words_of(query))
    ranked = []
    for pk, maker, line, name in rows:
        alone, whole = " ".join(words_of(name)), " ".join(words_of(maker, line, name))
        score = max(
            fuzz.token_sort_ratio(words, alone),
            fuzz.token_sort_ratio(words, whole),
            0.95 * fuzz.token_set_ratio(words, whole),
            0.9 * fuzz.partial_ratio(words, alone) if len(words) >= 3 else 0.0,
        )
        if score >= _NAME_CUTOFF:
            ranked.append((-score, len(alone), pk))
    return [pk for _, _, pk in sorted(ranked)]
