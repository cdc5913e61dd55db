"""Counts and rows of facts, as every door says them. Sentences list with `labels.phrasing`."""

from __future__ import annotations

from collections.abc import Sequence


def counted(n: int, noun: str, plural: str = "") -> str:
    """`1 tube`, `1,200 tubes`."""
    return f"{n:,} {noun if n == 1 else plural or noun + 's'}"


def dotted(*facts: str) -> str:
    """The facts that are known, with dots between: `60 ml · 8.15 EUR`."""
    return " · ".join(fact for fact in facts if fact)


def seats_text(seats: Sequence[str]) -> str:
    """`seat 3`, `seats 3, 5`."""
    return ("seat " if len(seats) == 1 else "seats ") + ", ".join(seats)
