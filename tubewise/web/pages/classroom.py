"""Class: every seat's box against the supply list: by grid, by seat, by shop, by mix."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import Response

from tubewise.advice.classroom.check import ClassCheck
from tubewise.advice.classroom.seat import SeatCheck
from tubewise.advice.classroom.summary import SeatStanding
from tubewise.advice.recipes.offer import Offer
from tubewise.tubes.supply import SupplyList
from tubewise.web.class_choice import checked, choice_of, supply_of
from tubewise.web.missing import MissingError
from tubewise.web.questions import ClassAddress, ClassAsked, Name
from tubewise.web.render import counter_of, page, waiting_page
from tubewise.web.works import Progress

router = APIRouter()


@router.get("/class")
def grid(request: Request, address: ClassAsked) -> Response:
    """The grid of seats and slots, and the teacher's summary."""
    return _view(request, "class.html", address)


@router.get("/class/shopping")
def shopping(request: Request, address: ClassAsked) -> Response:
    """What to buy, shop by shop."""
    return _view(request, "shopping.html", address)


@router.get("/class/mixes")
def mixes(request: Request, address: ClassAsked) -> Response:
    """The key mixes as each seat will get them."""
    return _view(request, "mixes.html", address)


@router.get("/class/seat")
def seat(request: Request, seat: Name, address: ClassAsked) -> Response:
    """One seat: what will do, what won't, and what to do about it."""
    holdings = counter_of(request).holdings()
    boxes = holdings.boxes.get(choice_of(holdings, address).boxes, ())
    box = next((b for b in boxes if b.seat == seat), None)
    if box is None:
        raise MissingError(f"There is no seat “{seat}” in this class.")
    return _view(
        request,
        "seat.html",
        address,
        seat=seat,
        seat_of=_seat_of,
        bench_parts=_bench_parts,
        box=box,
    )


def _view(request: Request, template: str, address: ClassAddress, **more: Any) -> Response:
    """A page of the class check, or how far it has come."""
    holdings = counter_of(request).holdings()
    choice = choice_of(holdings, address)
    shared: dict[str, Any] = {
        "here": "class",
        "holdings": holdings,
        "choice": choice,
        "asking": choice.asking,
        **more,
    }
    if not choice.is_whole:
        return page(request, "class_empty.html", revision=holdings.revision, **shared)
    answer = checked(holdings, choice)
    if isinstance(answer, Progress):
        return waiting_page(
            request, here="class", title="Checking the boxes", done=answer.done, every=answer.all
        )
    supply = supply_of(holdings, choice.list)
    return page(
        request, template, revision=holdings.revision, answer=answer, supply=supply, **shared
    )


def _bench_parts(made: Offer, supply: SupplyList, slot: str) -> list[tuple[str, str]]:
    accept = next((s.accept for s in supply.slots if s.slot == slot), ())
    # One pigment is a target by its code; a set of several is not.
    first = next((next(iter(refs)) for refs in accept if len(refs) == 1), "")
    return [("target", first), *(("p", f"{p.tube}={p.parts:g}") for p in made.parts)]


def _seat_of(answer: ClassCheck, seat: str) -> tuple[SeatCheck, SeatStanding]:
    for check, standing in zip(answer.seats, answer.summary.standings, strict=True):
        if check.seat == seat:
            return check, standing
    raise MissingError(f"There is no seat “{seat}” in this class.")
