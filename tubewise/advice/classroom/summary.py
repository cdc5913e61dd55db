"""The teacher's summary of a class check: who is ready, what to buy, which mixes need care."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from tubewise.advice.alike.difference import difference
from tubewise.advice.alike.strength import ladder, strength_factor
from tubewise.advice.classroom.shopping import ShoppingList, shopping_list
from tubewise.advice.classroom.standard import Standard, slot_of
from tubewise.advice.classroom.verdicts import CHECK_FORM, MISSING, MIX, READY, STAND_IN, WRONG
from tubewise.advice.words.lists import seats_text
from tubewise.advice.words.thresholds import CLOSE
from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.patch import Colour
from tubewise.colour.words import SIDE_BY_SIDE_BELOW
from tubewise.paints.appearance import appearance, mixed
from tubewise.paints.paint import DRAWS, Paint
from tubewise.paints.shelf import Shelf
from tubewise.tubes.supply import KeyMix, Slot, SupplyList

if TYPE_CHECKING:
    from tubewise.advice.classroom.check import SeatCheck


# What fills each slot at one seat: the best guess first, then the other forms it may be.
Hand = dict[Slot, tuple[Paint, ...]]


@dataclass(frozen=True, slots=True)
class SeatMix:
    """One seat's version of a key mix; `missing` names slots taken as bought.

    Where a form is still to be checked, the colour and distances are those of the form that
    strays most.
    """

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
    """Whether a seat is `ready`, `nearly ready` (some things to check) or `not ready`, and why.

    `mixing` names the slots it fills with mixtures.
    """

    seat: str
    standing: str
    to_check: tuple[str, ...]
    lacking: tuple[str, ...]
    mixing: tuple[str, ...]


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
    unready = "not ready" if lacking else "nearly ready"
    standing = "ready" if usable and not to_check else unready
    mixing = tuple(s.slot for s in seat.slots if s.recipe is not None)
    return SeatStanding(seat.seat, standing, to_check, lacking, mixing)


def _as_told(
    meant: Sequence[Paint],
    held: Sequence[Paint],
    parts: Floats,
    shelf: Shelf,
    factors: dict[tuple[int, int], Floats],
) -> Floats:
    """The mixture, (draws, 3), of what a seat holds in the parts it was told: who has a weaker
    paint takes more of it. `factors` keeps what was found for each pair of paints."""
    each = []
    for wanted, own, part in zip(meant, held, parts, strict=True):
        key = (id(wanted), id(own))
        if key not in factors:
            same = own is wanted
            steps = ladder(wanted, shelf)
            factors[key] = np.ones(DRAWS + 1) if same else strength_factor(wanted, own, steps)
        each.append(part * factors[key])
    return lab_from_reflectance(appearance(*mixed(held, np.stack(each, axis=-1))))


def _mix_report(
    mix: KeyMix,
    standards: Sequence[Standard],
    seats: Sequence[SeatCheck],
    hands: Sequence[Hand],
    shelf: Shelf,
    factors: dict[tuple[int, int], Floats],
) -> MixReport:
    slots = [s.slot for s in standards]
    meant = [shelf.pigment(ref) for ref, _ in mix.parts]
    parts = np.array([part for _, part in mix.parts])
    served = [slot_of(ref, slots) for ref, _ in mix.parts]
    aim = lab_from_reflectance(appearance(*mixed(meant, parts)))
    out = []
    for seat, hand in zip(seats, hands, strict=True):
        missing = tuple(slot.slot for slot in served if slot and slot not in hand)
        held = [
            hand.get(slot, (paint,)) if slot else (paint,)
            for paint, slot in zip(meant, served, strict=True)
        ]
        # One open form at a time: the seat hears of the worst.
        versions = [tuple(options[0] for options in held)]
        for at, options in enumerate(held):
            before, after = versions[0][:at], versions[0][at + 1 :]
            versions += [(*before, other, *after) for other in options[1:]]
        found = [
            difference(mix.mix, aim, _as_told(meant, version, parts, shelf, factors))
            for version in versions
        ]
        d = max(found, key=lambda d: d.delta_e00)
        out.append(SeatMix(seat.seat, d.delta_e00, d.low, d.high, d.words, d.b, missing))
    care = tuple(s.seat for s in out if s.high > CLOSE)
    lacking = tuple(s.seat for s in out if s.missing)
    said = []
    if care:
        worst = max(out, key=lambda s: s.delta_e00)
        said.append(
            f"demonstrate with care: {seats_text(care)} may get something else; "
            f"seat {worst.seat}'s is {worst.words}"
        )
    elif any(s.delta_e00 > SIDE_BY_SIDE_BELOW for s in out):
        worst = max(out, key=lambda s: s.delta_e00)
        said.append(f"nearly what you show; seat {worst.seat}'s is {worst.words}")
    else:
        said.append("every seat will see what you show")
    if lacking:
        said.append(f"{seats_text(lacking)} only once they have all its paints")
    words = "; ".join(said)
    text = " + ".join(f"{p:g} {ref}" for ref, p in mix.parts)
    return MixReport(mix.mix, text, mix.aim, Colour.of(aim[0]), tuple(out), care, words)


def summarise(
    supply: SupplyList,
    standards: Sequence[Standard],
    seats: Sequence[SeatCheck],
    hands: Sequence[Hand],
    shelf: Shelf,
) -> Summary:
    """Sum up a class: `hands` gives, seat by seat, the paints that may fill each slot."""
    factors: dict[tuple[int, int], Floats] = {}
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
        tuple(_mix_report(mix, standards, seats, hands, shelf, factors) for mix in supply.mixes),
    )
