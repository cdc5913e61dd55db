"""Numbers as a person writes them in a cell."""

from __future__ import annotations


def number_text(value: float) -> str:
    """A number as a person writes it: `37`, `4.2`, never an exponent."""
    if value == int(value):
        return str(int(value))
    text = repr(float(value))
    return text if "e" not in text else f"{value:.12f}".rstrip("0")
