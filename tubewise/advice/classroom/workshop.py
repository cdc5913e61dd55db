"""One workshop: its supply list, everybody's boxes, the catalogue, and what was measured."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from tubewise.advice.classroom.standard import Standard, standards
from tubewise.paints.shelf import Measured, Shelf
from tubewise.pigments.purpose import PRACTICE, Purpose
from tubewise.tubes.box_lines import BoxRead, BoxReader
from tubewise.tubes.supply import SupplyList
from tubewise.tubes.tube import Box, Tube


@dataclass(frozen=True, eq=False)
class Workshop:
    """What every question about a class is asked of: the check, the hand-out, the list itself.

    `catalogue` completes sparse box rows and says what can be bought; `measurements` maps tube ids
    to measured optics, which stand before any model; `purpose` is what the paint is for wherever a
    slot does not say it.
    """

    supply: SupplyList
    boxes: Sequence[Box] = ()
    catalogue: Sequence[Tube] = ()
    measurements: Mapping[str, Measured] = field(default_factory=dict)
    purpose: Purpose = PRACTICE

    @cached_property
    def boxes_read(self) -> tuple[BoxRead, ...]:
        """The boxes as they were understood, line by line."""
        return BoxReader(self.catalogue).boxes(self.boxes)

    @cached_property
    def completed_boxes(self) -> tuple[Box, ...]:
        """The boxes, their sparse rows completed from the catalogue."""
        return tuple(read.box for read in self.boxes_read)

    @cached_property
    def shelf(self) -> Shelf:
        """Every tube of the catalogue and the boxes as a paint."""
        owned = (tube for box in self.completed_boxes for tube in box.tubes)
        return Shelf((*self.catalogue, *owned), self.measurements)

    @cached_property
    def standards(self) -> tuple[Standard, ...]:
        """What each slot asks of a paint, in the list's order.

        The catalogue's swatches may settle it; what somebody owns is to be judged, never to judge
        by.
        """
        return standards(self.supply, self.shelf, self.catalogue, self.purpose)
