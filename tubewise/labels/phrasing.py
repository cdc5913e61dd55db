"""Lists of codes as a sentence says them."""

from __future__ import annotations

from collections.abc import Sequence


def listing(items: Sequence[str]) -> str:
    """`PY3, PG7 and PW6`."""
    return _joined(items, "and")


def either(items: Sequence[str]) -> str:
    """`PB15:1, PB15:3 or PB15:6`."""
    return _joined(items, "or")


def _joined(items: Sequence[str], word: str) -> str:
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {word} {items[-1]}"
