"""Words compared as people compare them."""

from __future__ import annotations


def folded(text: str) -> str:
    """The text without differences of case and blanks, by which seats and names are told apart."""
    return " ".join(text.casefold().split())
