"""Paints and looks worked out once and carried from one state of the store to the next."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

import numpy as np

from tubewise.paints.shelf import Shelf
from tubewise.tubes.tube import Tube
from tubewise.web.remembered import Remembered

if TYPE_CHECKING:
    from tubewise.measure.measured import MeasuredOptics
    from tubewise.paints.paint import Paint

_MOST_LOOKS = 20_000


class Paints:
    """What is known of tubes' paints, good as long as their measurements stay.

    `looks` remembers what was drawn of them.
    """

    def __init__(self, measured: Mapping[str, MeasuredOptics]) -> None:
        self.measured = dict(measured)
        self.known: dict[object, Paint | None] = {}
        self.looks = Remembered(_MOST_LOOKS)

    def for_now(self, measured: Mapping[str, MeasuredOptics]) -> Paints:
        """These paints if nothing was measured anew or withdrawn, else fresh ones."""
        same = self.measured.keys() == measured.keys() and all(
            np.array_equal(self.measured[i].K, found.K)
            and np.array_equal(self.measured[i].S, found.S)
            and self.measured[i].summary == found.summary
            for i, found in measured.items()
        )
        return self if same else Paints(measured)


class PaintedShelf(Shelf):
    """A shelf that opens no tube twice, whatever changes around it."""

    def __init__(self, tubes: Iterable[Tube], paints: Paints) -> None:
        super().__init__(tubes, paints.measured)
        self._paints = paints.known
