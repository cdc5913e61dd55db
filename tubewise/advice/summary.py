"""The teacher's summary of a class check: who is ready, what to buy, which mixes need care."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tubewise.advice.behaviour import difference, ladder, strength_factor
from tubewise.advice.mixing import appearance, mixed
from tubewise.advice.paint import Paint
from tubewise.advice.shelf import Shelf
from tubewise.advice.shopping import ShoppingList, shopping_list
from tubewise.advice.standard import Standard, slot_of
from tubewise.advice.swatch import Colour
from tubewise.advice.thresholds import CLOSE
from tubewise.advice.verdicts import CHECK_FORM, MISSING, MIX, READY, STAND_IN, WRONG
from tubewise.colour.lab import lab_from_reflectance
from tubewise.tubes.supply import KeyMix, SupplyList

if TYPE_CHECKING:
    from tubewise.advice.check import SeatCheck


@dataclass(frozen=True, slots=True)
class SeatMix:
    """One seat's version of a key mix; `missing` names slots taken as bought."""

    seat: str
    delta_e00: float
    low: float
    high: float
    words: str
    colour: Colour
    missing: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MixReport:
    """A key mix as the lesson means it and as every seat will get it."""

    mix: str
    parts: str
    aim: str
    colour: Colour
    seats: tuple[SeatMix, ...]
    with_care: tuple[str, ...]
    words: str


@dataclass(frozen=True, slots=True)
class SeatStanding:
    """Whether a seat is `ready`, `nearly` (only forms to check) or `not ready`, and for what."""

    seat: str
    standing: str
    to_check: tuple[str, ...]
    lacking: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Summary:
    """What a teacher reads before class."""

    standings: tuple[SeatStanding, ...]
    shopping: ShoppingList
    mixes: tuple[MixReport, ...]

    @property
    def ready(self) -> tuple[str, ...]:
        """Seats that can paint the lesson with what they have."""
        return tuple(s.seat for s in self.standings if s.standing == "ready")


def _standing(seat: SeatCheck) -> SeatStanding:
    to_check = tuple(
        s.slot
        for s in seat.slots
        if s.verdict == CHECK_FORM or (s.verdict in (STAND_IN, MIX) and s.close_call)
    )
    lacking = tuple(
        s.slot
        for s in seat.slots
        if s.verdict == MISSING or (s.verdict == WRONG and s.recipe is None)
    )
    usable = all(s.verdict in READY or s.recipe is not None for s in seat.slots)
    unready = "not ready" if lacking else "nearly"
    standing = "ready" if usable and not to_check else unready
    return SeatStanding(seat.seat, standing, to_check, lacking)


def _mix_report(
    mix: KeyMix,
    standards: Sequence[Standard],
    seats: Sequence[SeatCheck],
    hands: Sequence[Mapping[str, Paint]],
    shelf: Shelf,
) -> MixReport:
    slots = [s.slot for s in standards]
    meant = [shelf.pigment(ref) for ref, _ in mix.parts]
    parts = np.array([part for _, part in mix.parts])
    served = [slot_of(ref, slots) for ref, _ in mix.parts]
    aim = lab_from_reflectance(appearance(*mixed(meant, parts)))
    out = []
    for seat, hand in zip(seats, hands, strict=True):
        paints, factors, missing = [], [], []
        for paint, slot in zip(meant, served, strict=True):
            own = hand.get(slot.slot) if slot else None
            if slot and own is None:
                missing.append(slot.slot)
            paints.append(own or paint)
            # Who has a weaker paint has been told to take more of it; what is left is its colour.
            factors.append(
                strength_factor(paint, own, ladder(paint, shelf)) if own is not None else 1.0
            )
        each = np.stack(
            [np.broadcast_to(p * f, aim.shape[:1]) for p, f in zip(parts, factors, strict=True)],
            axis=-1,
        )
        lab = lab_from_reflectance(appearance(*mixed(paints, each)))
        d = difference(mix.mix, aim, lab)
        out.append(SeatMix(seat.seat, d.delta_e00, d.low, d.high, d.words, d.b, tuple(missing)))
    care = tuple(s.seat for s in out if s.delta_e00 > CLOSE)
    if care:
        worst = max(out, key=lambda s: s.delta_e00)
        words = (
            f"demonstrate with care: {_seats(care)} will get something else; "
            f"seat {worst.seat}'s is {worst.words}"
        )
    else:
        words = "every seat will see what you show"
    text = " + ".join(f"{p:g} {ref}" for ref, p in mix.parts)
    return MixReport(mix.mix, text, mix.aim, Colour.of(aim[0]), tuple(out), care, words)


def _seats(seats: Sequence[str]) -> str:
    return ("seat " if len(seats) == 1 else "seats ") + ", ".join(seats)


def summarise(
    supply: SupplyList,
    standards: Sequence[Standard],
    seats: Sequence[SeatCheck],
    hands: Sequence[Mapping[str, Paint]],
    shelf: Shelf,
) -> Summary:
    """Sum up a class: `hands` gives, seat by seat, the paint that fills each slot."""
    wanted = [
        (seat.seat, slot.buy)
        for seat in seats
        for slot in seat.slots
        if slot.buy is not None
        and (slot.verdict == MISSING or (slot.verdict == WRONG and slot.recipe is None))
    ]
    return Summary(
        tuple(map(_standing, seats)),
        shopping_list(wanted),
        tuple(_mix_report(mix, standards, seats, hands, shelf) for mix in supply.mixes),
    )
