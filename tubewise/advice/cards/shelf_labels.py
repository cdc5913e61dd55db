"""Shelf labels: each tube with what is known of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from tubewise.advice.cards.paint_facts import PaintFacts, facts_of
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.pigments.permanence import cautions, lightfastness
from tubewise.pigments.pigment import Caution
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True, kw_only=True)
class ShelfLabel:
    """One tube's label; `paint` is None where nothing says what the tube holds.

    `lightfastness` is the least lasting category of its pigments, "" where it declares none.
    """

    tube: Tube
    lightfastness: str
    cautions: tuple[Caution, ...]
    paint: PaintFacts | None


def shelf_labels(
    tubes: Sequence[Tube],
    shelf: Shelf | None = None,
    progress: Callable[[int, int], None] | None = None,
) -> tuple[ShelfLabel, ...]:
    """A label for each tube, in the order given. Raises UserError for none."""
    if not tubes:
        raise UserError("no tubes to label: give a catalogue, or import one first")
    known = shelf or Shelf(tubes)
    labels = []
    for done, tube in enumerate(tubes, 1):
        paint = known.tube(tube)
        labels.append(
            ShelfLabel(
                tube=tube,
                paint=facts_of(paint, known) if paint is not None else None,
                lightfastness=lightfastness(tube.refs, tube.medium) if tube.refs else "",
                cautions=cautions(tube.refs),
            )
        )
        if progress is not None:
            progress(done, len(tubes))
    return tuple(labels)
