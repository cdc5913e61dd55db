"""The teacher's summary of a class check: who is ready, what to buy, which mixes need care."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.classroom.message import message
from tubewise.advice.classroom.mix_report import Hand, MixReport, Strengths, mix_report
from tubewise.advice.classroom.seat import SeatCheck
from tubewise.advice.classroom.shopping import ShoppingList, shopping_list
from tubewise.advice.classroom.standard import list_setting
from tubewise.advice.classroom.verdicts import READY, Standing
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.layers import Coat, by_layer, of_media
from tubewise.labels.phrasing import listing


@dataclass(frozen=True, slots=True, kw_only=True)
class SeatStanding:
    """How a seat stands and why: which slots are `to_check`, which are `lacking`.

    `mixing` names the slots it fills with mixtures; `todo` says all three to the teacher, and
    `message` what to write to the seat, "" for nothing.
    """

    seat: str
    standing: Standing
    to_check: tuple[str, ...]
    lacking: tuple[str, ...]
    mixing: tuple[str, ...]
    todo: str
    message: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """What a teacher reads before class; `layers` says what may lie over what."""

    standings: tuple[SeatStanding, ...]
    shopping: ShoppingList
    mixes: tuple[MixReport, ...]
    layers: tuple[str, ...] = ()

    @property
    def ready(self) -> tuple[str, ...]:
        """Seats that can paint the lesson with what they have."""
        return tuple(s.seat for s in self.standings if s.standing == Standing.READY)


def summarise(workshop: Workshop, seats: Sequence[SeatCheck], hands: Sequence[Hand]) -> Summary:
    """Sum up a class: `hands` gives, seat by seat, the paints that may fill each slot."""
    slots = [standard.slot for standard in workshop.standards]
    named = [(seat.seat, hand) for seat, hand in zip(seats, hands, strict=True)]
    medium = slots[0].medium if slots else ""
    setting = list_setting(workshop.supply, medium, workshop.shelf)
    strengths = Strengths(shelf=workshop.shelf, setting=setting)
    wanted = [
        (seat.seat, slot.buy)
        for seat in seats
        for slot in seat.slots
        if slot.buy is not None and slot.lacking
    ]
    return Summary(
        standings=tuple(map(_standing, seats)),
        shopping=shopping_list(wanted),
        mixes=tuple(mix_report(mix, slots, named, strengths) for mix in workshop.supply.mixes),
        layers=_layers(workshop),
    )


def _layers(workshop: Workshop) -> tuple[str, ...]:
    """What may lie over what, of the media the list asks for; in oil which paints lie below."""
    coats = [
        Coat(name=slot.slot.slot, medium=slot.slot.medium, refs=tuple(map(str, slot.paint.refs)))
        for slot in workshop.standards
    ]
    return (*of_media(coat.medium for coat in coats), *filter(None, (by_layer(coats),)))


def _standing(seat: SeatCheck) -> SeatStanding:
    to_check = tuple(s.slot for s in seat.slots if s.to_check)
    lacking = tuple(s.slot for s in seat.slots if s.lacking)
    mixing = tuple(s.slot for s in seat.slots if s.recipe is not None)
    usable = all(s.verdict in READY or s.recipe is not None for s in seat.slots)
    unready = Standing.NOT_READY if lacking else Standing.NEARLY
    return SeatStanding(
        seat=seat.seat,
        standing=Standing.READY if usable and not to_check else unready,
        to_check=to_check,
        lacking=lacking,
        mixing=mixing,
        todo=_todo(seat, lacking, to_check, mixing),
        message=message(seat.slots),
    )


def _todo(
    seat: SeatCheck, lacking: Sequence[str], to_check: Sequence[str], mixing: Sequence[str]
) -> str:
    """`lacks Rose and White; should check Blue; mixes Green itself`, or "" where all is there."""
    words = []
    if lacking:
        words.append(
            f"lacks {'everything' if len(lacking) == len(seat.slots) else listing(lacking)}"
        )
    if to_check:
        words.append(f"should check {listing(to_check)}")
    if mixing and not lacking:
        words.append(f"mixes {listing(mixing)} itself")
    return "; ".join(words)
