"""One seat of a class: its slots, and what else about its box is worth saying."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.classroom.slot_verdict import SlotVerdict
from tubewise.advice.classroom.verdicts import FILLED
from tubewise.colour.patch import swatches
from tubewise.labels.phrasing import listing
from tubewise.tubes.box_lines import BoxRead
from tubewise.tubes.tube import Box

# What a label may have that the owner should look at, whatever the lesson needs.
WORTH_SAYING = frozenset(
    {"nothing-declared", "likely-misread", "code-number-disagree", "unknown-code"}
)


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatCheck:
    """One seat: its slots in the list's order, and what else about the box is worth saying.

    `read` is the box as it was understood, line by line.
    """

    seat: str
    slots: tuple[SlotVerdict, ...]
    remarks: tuple[str, ...]
    read: BoxRead

    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions of what fills the slots, each once with the slots it is about."""
        slots_by_caution: dict[str, list[str]] = {}
        for slot in self.slots:
            for caution in slot.cautions:
                slots_by_caution.setdefault(caution.text, []).append(slot.slot)
        return tuple(f"{', '.join(slots)}: {text}" for text, slots in slots_by_caution.items())

    def _repr_html_(self) -> str:
        return swatches([(f"{s.slot}: {s.verdict}", s.has or s.asked) for s in self.slots])


def remarks(box: Box, slots: Sequence[SlotVerdict]) -> tuple[str, ...]:
    """What else to say about a box: tubes that serve twice, labels that say nothing."""
    uses: dict[str, list[str]] = {}
    for slot in slots:
        if slot.tube and slot.verdict in FILLED:
            uses.setdefault(slot.tube, []).append(slot.slot)
    titles = {tube.id: tube.title for tube in box.tubes}
    twice = [
        f"{titles[tube]} has to serve for {listing(served)}"
        for tube, served in uses.items()
        if len(served) > 1
    ]
    labels = [
        f"{tube.title}: {warning.message}"
        for tube in box.tubes
        for warning in tube.reading.warnings
        if warning.kind in WORTH_SAYING
    ]
    return tuple(dict.fromkeys((*twice, *labels)))
