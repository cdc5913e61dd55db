"""Class: the supply list, every seat's box, and what will do: by grid, by seat, by shop, by mix."""

from __future__ import annotations

import tempfile
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Form, Query, Request
from fastapi.responses import RedirectResponse, Response

from tubewise import labels
from tubewise.advice.classroom import workshop as classroom
from tubewise.advice.classroom.check import ClassCheck, SeatCheck, check
from tubewise.advice.recipes.offer import Offer
from tubewise.errors import UserError
from tubewise.tubes.catalogue import read_boxes, write_boxes
from tubewise.tubes.supply import (
    KeyMix,
    Slot,
    SupplyList,
    read_accept,
    read_parts,
    read_supply_list,
)
from tubewise.tubes.tube import Box, Tube
from tubewise.web.changes import may_change
from tubewise.web.holdings import Holdings, Progress
from tubewise.web.missing import MissingError
from tubewise.web.render import counter_of, page
from tubewise.web.uploads import Upload, uploaded

router = APIRouter()
Name = Annotated[str, Query(max_length=200)]
Typed = Annotated[str, Form(max_length=200)]
LongText = Annotated[str, Form(max_length=60_000)]
MOST_SEATS = 400
MOST_TYPED = 200


@dataclass(frozen=True, slots=True)
class Workshop:
    """The list and the set of boxes an address means, and those there are."""

    list: str
    boxes: str
    lists: tuple[str, ...]
    sets: tuple[str, ...]

    @property
    def query(self) -> str:
        """The address's part that names both."""
        return urlencode({"list": self.list, "boxes": self.boxes})


def workshop_of(held: Holdings, list_: str, boxes: str | None) -> Workshop:
    """The workshop an address means; unsaid, the first list and the boxes of its name."""
    lists = held.remember(("lists",), lambda: tuple(held.store.supply_list_names()))
    sets = tuple(held.boxes)
    chosen = list_ if list_ in lists else (lists[0] if lists else "")
    if boxes is None or boxes not in sets:
        boxes = chosen if chosen in sets else (sets[0] if sets else "")
    return Workshop(chosen, boxes, lists, sets)


def supply_of(held: Holdings, name: str) -> SupplyList | None:
    """The supply list of a name."""
    return held.remember(("supply", name), lambda: held.store.supply_list(name))


def asked_of(held: Holdings, workshop: Workshop) -> classroom.Workshop | None:
    """The list, the boxes and all that is known, as the advice is asked about them."""
    supply = supply_of(held, workshop.list)
    if supply is None:
        return None
    boxes = held.kept_boxes.get(workshop.boxes, ())
    return classroom.Workshop(supply, boxes, held.tubes, held.measured)


def checked(held: Holdings, workshop: Workshop) -> ClassCheck | Progress:
    """The class check, or how far it has come."""

    def work(progress: Progress) -> ClassCheck:
        def step(done: int, every: int) -> None:
            progress.done, progress.all = done, every

        asked = asked_of(held, workshop)
        assert asked is not None
        return check(asked, step)

    return held.begin(("check", workshop.list, workshop.boxes), work)


def _view(request: Request, template: str, list_: str, boxes: str | None, **more: Any) -> Response:
    held = counter_of(request).holdings()
    workshop = workshop_of(held, list_, boxes)
    shared: dict[str, Any] = {"held": held, "workshop": workshop, **more}
    if not workshop.list or not workshop.sets:
        return page(request, "class_empty.html", here="class", revision=held.revision, **shared)
    answer = checked(held, workshop)
    if isinstance(answer, Progress):
        waiting = page(request, "waiting.html", here="class", progress=answer, **shared)
        # The header asks again by itself, with scripts or without.
        waiting.headers["refresh"] = "1"
        waiting.headers["cache-control"] = "no-store"
        return waiting
    supply = supply_of(held, workshop.list)
    return page(
        request,
        template,
        here="class",
        revision=held.revision,
        answer=answer,
        supply=supply,
        **shared,
    )


@router.get("/class")
def grid(
    request: Request,
    list: Name = "",
    boxes: Annotated[str | None, Query(max_length=200)] = None,
) -> Response:
    """The grid of seats and slots, and the teacher's summary."""
    return _view(request, "class.html", list, boxes)


@router.get("/class/shopping")
def shopping(
    request: Request,
    list: Name = "",
    boxes: Annotated[str | None, Query(max_length=200)] = None,
) -> Response:
    """What to buy, shop by shop."""
    return _view(request, "shopping.html", list, boxes)


@router.get("/class/mixes")
def mixes(
    request: Request,
    list: Name = "",
    boxes: Annotated[str | None, Query(max_length=200)] = None,
) -> Response:
    """The key mixes as each seat will get them."""
    return _view(request, "mixes.html", list, boxes)


@router.get("/class/seat")
def seat(
    request: Request,
    seat: Name,
    list: Name = "",
    boxes: Annotated[str | None, Query(max_length=200)] = None,
) -> Response:
    """One seat: what will do, what won't, and what to do about it."""
    held = counter_of(request).holdings()
    workshop = workshop_of(held, list, boxes)
    if seat not in [b.seat for b in held.boxes.get(workshop.boxes, ())]:
        raise MissingError(f"There is no seat “{seat}” in this class.")
    return _view(
        request,
        "seat.html",
        list,
        boxes,
        seat=seat,
        seat_of=_seat_of,
        bench_parts=_bench_parts,
        box=next(b for b in held.boxes[workshop.boxes] if b.seat == seat),
    )


def _bench_parts(made: Offer, supply: SupplyList, slot: str) -> list[tuple[str, str]]:
    accept = next((s.accept for s in supply.slots if s.slot == slot), ())
    # One pigment is a target by its code; a set of several is not.
    first = next((next(iter(refs)) for refs in accept if len(refs) == 1), "")
    return [("target", first), *(("p", f"{p.tube}={p.parts:g}") for p in made.parts)]


def _seat_of(answer: ClassCheck, seat: str) -> tuple[SeatCheck, object]:
    for one, standing in zip(answer.seats, answer.summary.standings, strict=True):
        if one.seat == seat:
            return one, standing
    raise MissingError(f"There is no seat “{seat}” in this class.")


# ------------------------------------------------------------------ supply lists


@router.get("/class/list")
def supply_list(
    request: Request,
    list: Name = "",
    removed: Name = "",
    saved: Name = "",
) -> Response:
    """The supply list by pigment: each slot with what it accepts and how that looks."""
    held = counter_of(request).holdings()
    workshop = workshop_of(held, list, None)
    supply = supply_of(held, workshop.list) if workshop.list else None
    of_list = asked_of(held, workshop)
    asked = (
        held.remember(("standards", workshop.list), lambda: of_list.standards) if of_list else ()
    )
    return page(
        request,
        "supply.html",
        here="class",
        revision=held.revision,
        held=held,
        workshop=workshop,
        supply=supply,
        asked=asked,
        removed=removed if removed not in workshop.lists else "",
        saved=saved,
    )


@router.post("/class/list", dependencies=[Depends(may_change)])
def save_list(
    request: Request,
    name: Typed = "",
    slots: LongText = "",
    mixes: LongText = "",
    medium: Annotated[str, Form(max_length=60)] = "",
) -> Response:
    """Keep a typed supply list: one slot a line, one mix a line."""
    if not name.strip():
        raise UserError("Give the workshop a name.")
    supply = SupplyList(name.strip(), _slots(slots, medium.strip()), _mixes(mixes))
    if not supply.slots:
        raise UserError("Write at least one slot, such as: Permanent rose: PV19/gamma | PR122")
    counter_of(request).change(lambda store: store.import_supply_list(supply))
    return RedirectResponse(f"/class/list?{urlencode({'list': supply.name, 'saved': 1})}", 303)


@router.post("/class/list/file", dependencies=[Depends(may_change)])
def upload_list(
    request: Request,
    file: Upload,
    name: Typed = "",
    mixes: Upload | None = None,
) -> Response:
    """Take in a supply list from a spreadsheet, its mixes from a second one where given."""
    with uploaded(file) as path:
        if mixes is not None and mixes.filename:
            with uploaded(mixes) as second:
                supply = read_supply_list(path, second)
        else:
            supply = read_supply_list(path)
    if name.strip():
        supply = replace(supply, name=name.strip())
    counter_of(request).change(lambda store: store.import_supply_list(supply))
    return RedirectResponse(f"/class/list?{urlencode({'list': supply.name, 'saved': 1})}", 303)


@router.post("/class/list/remove", dependencies=[Depends(may_change)])
def remove_list(request: Request, name: Typed) -> Response:
    """Take a supply list away; the next page offers to undo it."""
    if not counter_of(request).change(lambda store: store.delete_supply_list(name)):
        raise MissingError("There is no such supply list; it may have been removed already.")
    return RedirectResponse(f"/class/list?{urlencode({'removed': name})}", 303)


@router.post("/class/list/restore", dependencies=[Depends(may_change)])
def restore_list(request: Request, name: Typed) -> Response:
    """Bring a removed supply list back."""
    if not counter_of(request).change(lambda store: store.restore_supply_list(name)):
        raise MissingError("There is no removed supply list of that name.")
    return RedirectResponse(f"/class/list?{urlencode({'list': name})}", 303)


def _lines(text: str) -> list[tuple[int, str]]:
    return [(n, line.strip()) for n, line in enumerate(text.splitlines(), 1) if line.strip()]


def _pair(number: int, line: str, what: str) -> tuple[str, str]:
    name, mark, rest = line.partition(":")
    # A colon may stand in a code (PB15:3), never before the first blank after a name.
    if not mark or not name.strip() or not rest.strip():
        raise UserError(f"Write a name, a colon and {what}.", where=f"line {number}")
    return name.strip(), rest.strip()


def _slots(text: str, medium: str) -> tuple[Slot, ...]:
    found = []
    for number, line in _lines(text):
        name, accept = _pair(number, line, "its pigments, such as PV19/gamma | PR122")
        try:
            found.append(Slot(name, read_accept(accept), medium))
        except ValueError as error:
            raise UserError(f"{error}.", where=f"slots, line {number}") from None
    return tuple(found)


def _mixes(text: str) -> tuple[KeyMix, ...]:
    found = []
    for number, line in _lines(text):
        name, parts = _pair(number, line, "its parts, such as PV19/gamma 1 + PW6 4")
        try:
            found.append(KeyMix(name, read_parts(parts)))
        except ValueError as error:
            raise UserError(f"{error}.", where=f"mixes, line {number}") from None
    return tuple(found)


# ------------------------------------------------------------------ boxes


@router.get("/class/boxes")
def boxes_page(
    request: Request,
    boxes: Annotated[str | None, Query(max_length=200)] = None,
    seat: Name = "",
    removed: Name = "",
    saved: Name = "",
) -> Response:
    """Every seat's box, a form to type one in, and one to send a spreadsheet."""
    held = counter_of(request).holdings()
    workshop = workshop_of(held, "", boxes)
    every = held.boxes.get(workshop.boxes, ())
    return page(
        request,
        "boxes.html",
        here="class",
        revision=held.revision,
        held=held,
        workshop=workshop,
        boxes=every,
        palette=lambda b: [c.hex for t in b.tubes if (c := held.seen(t).colour) is not None],
        typed=next((_as_typed(b) for b in every if b.seat == seat), ""),
        seat=seat,
        removed=removed if removed not in [b.seat for b in every] else "",
        saved=saved,
    )


def _as_typed(box: Box) -> str:
    return "\n".join(" ".join((t.title + " | " + t.label).split()) for t in box.tubes)


def typed_tube(line: str, held: Holdings) -> Tube:
    """A tube out of one typed line: `name | label`, or the words and codes as they stand on it.

    A line that names a catalogue's tube in full means that tube.
    """
    plain = " ".join(line.split())
    if plain in held.by_id:
        return held.by_id[plain]
    name, bar, label = (part.strip() for part in plain.partition("|"))
    titles = held.remember(("titles",), lambda: {t.title.casefold(): t for t in held.tubes})
    known = titles.get(name.casefold())
    if known is not None and (not label or " ".join(known.label.split()) == label):
        return known
    if bar:
        return Tube(name=name, label=label)
    reading = labels.read(plain)
    first = min((p.span[0] for p in reading.pigments), default=len(plain))
    return Tube(name=plain[:first].strip(" ,;:-–(") or plain, label=plain)


@router.post("/class/boxes", dependencies=[Depends(may_change)])
def save_box(
    request: Request, seat: Typed = "", boxes: Typed = "", tubes: LongText = ""
) -> Response:
    """Keep one typed box: a tube a line."""
    if not seat.strip():
        raise UserError("Say whose box it is.")
    lines = _lines(tubes)
    if len(lines) > MOST_TYPED:
        raise UserError(f"More than {MOST_TYPED} tubes are too many for one box.")
    counter = counter_of(request)
    held = counter.holdings()
    known = {
        " ".join((t.title + " | " + t.label).split()): t
        for b in held.boxes.get(boxes, ())
        if b.seat == seat.strip()
        for t in b.tubes
    }
    # A line left as it was keeps the tube with all that is known of it.
    found = [known.get(line) or typed_tube(line, held) for _, line in lines]
    box = Box(seat.strip(), tuple({t.id: t for t in found}.values()))
    counter.change(lambda store: store.import_boxes([box], boxes))
    return RedirectResponse(
        f"/class/boxes?{urlencode({'boxes': boxes, 'saved': box.seat})}#saved", 303
    )


@router.post("/class/boxes/file", dependencies=[Depends(may_change)])
def upload_boxes(request: Request, file: Upload, boxes: Typed = "") -> Response:
    """Take in boxes from a spreadsheet."""
    with uploaded(file) as path:
        found = read_boxes(path)
    if len(found) > MOST_SEATS:
        raise UserError(f"More than {MOST_SEATS} seats are too many for one class.")
    counter_of(request).change(lambda store: store.import_boxes(found, boxes))
    told = f"{len(found)} seats"
    return RedirectResponse(f"/class/boxes?{urlencode({'boxes': boxes, 'saved': told})}", 303)


@router.post("/class/boxes/remove", dependencies=[Depends(may_change)])
def remove_box(request: Request, seat: Typed, boxes: Typed = "") -> Response:
    """Take a box away; the next page offers to undo it."""
    if not counter_of(request).change(lambda store: store.delete_box(seat, boxes)):
        raise MissingError("There is no such box; it may have been removed already.")
    return RedirectResponse(f"/class/boxes?{urlencode({'boxes': boxes, 'removed': seat})}", 303)


@router.post("/class/boxes/restore", dependencies=[Depends(may_change)])
def restore_box(request: Request, seat: Typed, boxes: Typed = "") -> Response:
    """Bring a removed box back."""
    if not counter_of(request).change(lambda store: store.restore_box(seat, boxes)):
        raise MissingError("There is no removed box of that seat.")
    return RedirectResponse(f"/class/boxes?{urlencode({'boxes': boxes, 'saved': seat})}", 303)


@router.get("/class/boxes.{kind}")
def boxes_file(
    request: Request,
    kind: str,
    boxes: Annotated[str | None, Query(max_length=200)] = None,
) -> Response:
    """The boxes as a spreadsheet that reads back; nothing in it runs as a formula."""
    if kind not in ("csv", "xlsx"):
        raise MissingError("Boxes are given as CSV or XLSX.")
    held = counter_of(request).holdings()
    workshop = workshop_of(held, "", boxes)
    with tempfile.TemporaryDirectory(prefix="tubewise-") as folder:
        path = Path(folder) / f"boxes.{kind}"
        write_boxes(path, held.boxes.get(workshop.boxes, ()))
        data = path.read_bytes()
    return Response(
        data,
        media_type="text/csv"
        if kind == "csv"
        else "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
        headers={"content-disposition": f'attachment; filename="boxes.{kind}"'},
    )
