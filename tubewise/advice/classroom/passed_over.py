"""Tubes that have a slot's colour and yet don't serve: how they handle, last, or make a film."""

from __future__ import annotations

from collections.abc import Sequence

from tubewise.advice.alike.behaviour import compare_behaviour
from tubewise.advice.alike.character import flakes_instead
from tubewise.advice.classroom.standard import Standard
from tubewise.advice.handling import fails
from tubewise.advice.words.thresholds import CLOSE
from tubewise.labels.phrasing import either
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.tubes.tube import Tube


def passed_over(standard: Standard, tubes: Sequence[Tube], shelf: Shelf) -> tuple[str, ...]:
    """What to say of each of a box's tubes that the slot doesn't name and its colour would do.

    Whoever holds it would else wonder why it was not taken.
    """
    found = []
    for tube in tubes:
        paint = shelf.tube(tube)
        why = _why(standard, paint) if paint and not standard.accepts(tube) else ""
        if paint is None or not why:
            continue
        seen = compare_behaviour(standard.paint, paint, standard.setting, standard.companies)
        # Nobody looks at a white's masstone for how it hides: alone, thin and tinted must do.
        if max(seen.in_use, seen.masstone.delta_e00 if not seen.deep else 0.0) < CLOSE:
            found.append(f"{tube.title} has the colour, but {why}")
    return tuple(found)


def _why(standard: Standard, paint: Paint) -> str:
    """Why a paint is not taken whatever its colour; "" for one that may be."""
    missed = fails(standard.handling, paint.refs)
    if missed:
        return f"is not known to be {either(missed)}"
    refused = standard.fit(paint.refs).refused
    if refused:
        return refused
    if flakes_instead(standard.paint.refs, paint.refs, standard.slot.medium):
        return "makes a brittle film in oil, which may flake"
    return ""
