"""What a seat is called in a sentence: `Seat 3`, or as it is called already."""

from __future__ import annotations

from tubewise.tubes.folded import folded

_WORDS = ("seat", "platz", "place", "plaza", "asiento", "posto", "tisch", "table", "mesa", "tavolo")


def seat_title(seat: str) -> str:
    """`Seat 3` of `3`; `Platz 3` stays as it is."""
    return seat if folded(seat).startswith(_WORDS) else f"Seat {seat}"
