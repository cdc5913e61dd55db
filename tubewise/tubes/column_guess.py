"""Columns known by what stands in them, where their headings say nothing."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence

from tubewise import labels
from tubewise.tables.cells import Cell, Spoiled, text_of
from tubewise.tables.grid import Row
from tubewise.tables.headers import heading
from tubewise.tubes import fields
from tubewise.tubes.shop_words import size_written, stock_written

_SAMPLE = 200
# Of the cells that hold anything, so many must look like it; codes and media are hard to mistake.
_MOSTLY = 0.6
_LEAST = 2
_PRICED = re.compile(r"^\D{0,4}\d[\d.,' ]*\D{0,4}$")
# A series may be a price group by its number, or a maker's line by its name.
# An amount may be what a tube holds, or how many there are.
_AMOUNTS = ("menge", "anzahl", "quantity", "amount", "cantidad", "quantita", "quantite")
_SERIES = ("serie", "series", "collection")
_MONEY = re.compile(r"[€£$]|\b(?:EUR|USD|GBP|CHF)\b", re.IGNORECASE)


def _reads(read: Callable[[Cell], object]) -> Callable[[str], bool]:
    def looks(text: str) -> bool:
        try:
            return bool(read(text))
        except ValueError:
            return False

    return looks


def _is_code(text: str) -> bool:
    return bool(labels.read(text).pigments)


def _is_size(text: str) -> bool:
    return size_written(text) is not None


def _is_count(text: str) -> bool:
    return stock_written(text) is not None


def _is_price(text: str) -> bool:
    return bool(_MONEY.search(text) and _PRICED.match(text))


# In this order: what is hardest to mistake first.
_LOOKS: tuple[tuple[str, Callable[[str], bool]], ...] = (
    ("swatch_hex", _reads(lambda cell: str(cell).startswith("#") and fields.read_hex(cell))),
    ("price", _is_price),
    ("size_ml", _is_size),
    ("label", _is_code),
    ("medium", _reads(fields.read_medium)),
    ("grade", _reads(fields.read_grade)),
)


def guessed_columns(
    rows: Sequence[Row], known: Mapping[str, int], unknown: Mapping[str, int]
) -> dict[str, int]:
    """Our columns found by content among the `unknown` headings' positions, but for those `known`.

    The name is the column of most different words, where no heading says which it is.
    """
    free = list(unknown.values())
    heading_of = {at: heading(name) for name, at in unknown.items()}
    found: dict[str, int] = {}
    cells = {at: _texts(rows, at) for at in free}
    for column, looks in _LOOKS:
        if column in known:
            continue
        share = {at: _share(cells[at], looks) for at in free}
        best = max(free, key=lambda at: share[at], default=None)
        if best is not None and share[best] >= _MOSTLY:
            found[column] = best
            free.remove(best)
    if "stock" not in known:
        amounts = [at for at in free if heading_of.get(at, "") in _AMOUNTS]
        counted = [at for at in amounts if _share(cells[at], _is_count) >= _MOSTLY]
        if counted:
            found["stock"] = counted[0]
            free.remove(counted[0])
    if "line" not in known:
        series = [at for at in free if heading_of.get(at, "") in _SERIES]
        wordy = [at for at in series if _share(cells[at], _is_words) >= _MOSTLY]
        if wordy:
            found["line"] = wordy[0]
            free.remove(wordy[0])
    if "name" not in known:
        wordy = [at for at in free if _share(cells[at], _is_words, _LEAST) >= _MOSTLY]
        best = max(wordy, key=lambda at: (len(set(cells[at])), -at), default=None)
        if best is not None and len(set(cells[best])) > len(cells[best]) // 3:
            found["name"] = best
    return found


def _is_words(text: str) -> bool:
    return sum(character.isalpha() for character in text) >= 3


def _texts(rows: Sequence[Row], at: int) -> list[str]:
    cells = (row.cells[at] for row in rows[:_SAMPLE] if at < len(row.cells))
    return [text_of(cell) for cell in cells if cell != "" and not isinstance(cell, Spoiled)]


def _share(texts: Sequence[str], looks: Callable[[str], bool], least: int = 1) -> float:
    if len(texts) < least:
        return 0.0
    return sum(map(looks, texts)) / len(texts)
