"""Long lists in pieces that a database takes in one question."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice
from typing import TypeVar

# Databases take only so many values in one question; SQLite's older bound is 999.
ASKED_AT_ONCE = 500
_T = TypeVar("_T")


def chunks(items: Sequence[_T], size: int) -> Iterator[list[_T]]:
    """The items in order, at most `size` at a time."""
    rest = iter(items)
    while chunk := list(islice(rest, size)):
        yield chunk
