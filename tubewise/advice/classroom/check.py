"""The class check: every seat's box against the supply list, slot by slot."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

from tubewise.advice.classroom.candidate import Candidate, candidate, names_asked, promises
from tubewise.advice.classroom.shopping import Buy, buy_for
from tubewise.advice.classroom.slot_verdict import (
    SlotVerdict,
    misnamed,
    misread,
    missing,
    mixed_up,
    open_forms,
    with_tube,
)
from tubewise.advice.classroom.standard import Standard, usable_medium
from tubewise.advice.classroom.summary import Hand, Summary, summarise
from tubewise.advice.classroom.verdicts import CHECK_FORM, RIGHT, STAND_IN
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.recipes.offer import Offer, offer
from tubewise.advice.words.thresholds import STANDS_IN
from tubewise.colour.patch import swatches
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.tubes.supply import Slot
from tubewise.tubes.tube import Box, Tube


@dataclass(frozen=True, slots=True)
class SeatCheck:
    """One seat: its slots in the list's order, and what else about the box is worth saying."""

    seat: str
    slots: tuple[SlotVerdict, ...]
    remarks: tuple[str, ...]

    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions of what fills the slots, each once with the slots it is about."""
        about: dict[str, list[str]] = {}
        for slot in self.slots:
            for caution in slot.cautions:
                about.setdefault(caution.text, []).append(slot.slot)
        return tuple(f"{', '.join(slots)}: {text}" for text, slots in about.items())

    def _repr_html_(self) -> str:
        return swatches([(f"{s.slot}: {s.verdict}", s.has or s.asked) for s in self.slots])


@dataclass(frozen=True, slots=True)
class ClassCheck:
    """The whole class and the teacher's summary."""

    workshop: str
    seats: tuple[SeatCheck, ...]
    summary: Summary

    def _repr_html_(self) -> str:
        return "".join(f"<h4>Seat {s.seat}</h4>{s._repr_html_()}" for s in self.seats)


def check(workshop: Workshop, progress: Callable[[int, int], None] | None = None) -> ClassCheck:
    """Hold each box against the list and say what will do, what won't, and what to do about it.

    `progress(done, all)` is called after each seat.
    """
    supply, catalogue, shelf = workshop.supply, workshop.catalogue, workshop.shelf
    boxes, asked = workshop.completed_boxes, workshop.standards
    known = names_asked(asked, catalogue)
    buys = {s.slot: buy_for(s.slot, catalogue) for s in asked}
    memory: dict[tuple[Tube, Slot], Candidate | None] = {}
    seats: list[SeatCheck] = []
    hands: list[Hand] = []
    for done, box in enumerate(boxes, 1):
        hand: Hand = {}
        slots = tuple(
            _slot(
                standard,
                box,
                shelf,
                known[standard.slot],
                buys[standard.slot],
                memory,
                hand,
            )
            for standard in asked
        )
        seats.append(SeatCheck(box.seat, slots, _remarks(box, slots)))
        hands.append(hand)
        if progress is not None:
            progress(done, len(boxes))
    return ClassCheck(supply.name, tuple(seats), summarise(supply, asked, seats, hands, shelf))


def _slot(
    standard: Standard,
    box: Box,
    shelf: Shelf,
    names: set[str],
    buy: Buy | None,
    memory: dict[tuple[Tube, Slot], Candidate | None],
    hand: Hand,
) -> SlotVerdict:
    slot = standard.slot
    found: list[Candidate] = []
    other_medium: list[Tube] = []
    for tube in box.tubes:
        if not usable_medium(tube, slot):
            if promises(tube, standard, names):
                other_medium.append(tube)
            continue
        key = (tube, slot)
        if key not in memory:
            memory[key] = candidate(tube, standard, shelf, names)
        one = memory[key]
        if one is not None:
            found.append(one)
    best = min(found, key=lambda c: c.rank, default=None)
    notes = tuple(
        f"{t.title} is {t.medium}; the list asks for {slot.medium}, and they do not mix"
        for t in other_medium
    )
    if best is not None and best.verdict == CHECK_FORM and best.paint is None:
        return misread(best, standard, shelf, notes, buy)
    if best is not None and best.verdict in (RIGHT, STAND_IN, CHECK_FORM) and best.paint:
        forms = open_forms(best.tube) if best.verdict == CHECK_FORM else ()
        hand[slot] = (best.paint, *map(shelf.pigment, forms))
        together = sum(
            c.tube.size_ml or 0.0
            for c in found
            if c.verdict == best.verdict and c.same == best.same
        )
        if best.small and slot.min_ml and together >= slot.min_ml:
            best = replace(best, small=False)
        return with_tube(best, standard, shelf, notes, buy)
    made = _mix(standard, box, shelf)
    if made is not None:
        hand[slot] = (made[1],)
    if best is not None:
        if made is None and best.paint is not None:
            # Who is not told in time will use it, and the teacher should know what comes of it.
            hand[slot] = (best.paint,)
        return misnamed(best, standard, shelf, notes, made, buy)
    if made is not None:
        return mixed_up(made, standard, shelf, notes, buy)
    return missing(standard, shelf, notes, buy)


def _mix(standard: Standard, box: Box, shelf: Shelf) -> tuple[Offer, Paint] | None:
    """A mixture from the box that does the slot's work, in every situation of the lesson."""
    tubes = [t for t in box.tubes if usable_medium(t, standard.slot)]
    paints = [p for p in map(shelf.tube, tubes) if p is not None]
    return offer(standard.paint, paints, shelf, standard.companies, limit=STANDS_IN)


def _remarks(box: Box, slots: Sequence[SlotVerdict]) -> tuple[str, ...]:
    """What else to say about a box: tubes that serve twice, labels that say nothing."""
    remarks = []
    uses: dict[str, list[str]] = {}
    for slot in slots:
        if slot.tube and slot.verdict in (RIGHT, STAND_IN, CHECK_FORM):
            uses.setdefault(slot.tube, []).append(slot.slot)
    titles = {t.id: t for t in box.tubes}
    for tube, served in uses.items():
        if len(served) > 1:
            remarks.append(f"{titles[tube].title} has to serve for {' and '.join(served)}")
    for held in box.tubes:
        for warning in held.reading.warnings:
            if warning.kind in (
                "nothing-declared",
                "likely-misread",
                "code-number-disagree",
                "unknown-code",
            ):
                remarks.append(f"{held.title}: {warning.message}")
    return tuple(dict.fromkeys(remarks))
