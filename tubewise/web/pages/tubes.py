"""Tubes: find one, read a label, look at a tube, put it into a box."""

from __future__ import annotations

from dataclasses import asdict
from typing import Annotated

from fastapi import APIRouter, Depends, Form, Query, Request
from fastapi.responses import RedirectResponse, Response

from tubewise import labels
from tubewise.advice.classroom.shopping import shop_of
from tubewise.advice.counter.about import about
from tubewise.advice.counter.finding import PERMANENCES, FoundTubes
from tubewise.advice.counter.hues import HUES
from tubewise.advice.counter.kin import same_name, same_pigments
from tubewise.advice.words.pigments import pigment_text
from tubewise.errors import UserError
from tubewise.pigments.permanence import lightfastness
from tubewise.pigments.pigment import Pigment
from tubewise.pigments.register import load
from tubewise.tubes.tube import Tube
from tubewise.web.boxing import put_into_box
from tubewise.web.changes import may_change
from tubewise.web.holdings import Holdings
from tubewise.web.missing import MissingError
from tubewise.web.pages.instead import rack_place
from tubewise.web.questions import Name, TubeSearch
from tubewise.web.render import counter_of, page

router = APIRouter()
PER_PAGE = 24
# Every tube must be painted to be put in its place; that takes a second for so many.
_ON_A_RACK = 1_500


@router.get("/tubes")
def tubes(
    request: Request,
    search: Annotated[TubeSearch, Depends()],
    at_most: Name = "",
    at: Annotated[int, Query(ge=1, le=100_000)] = 1,
    removed: Name = "",
) -> Response:
    """The tubes that meet all that is asked, as strips that touch."""
    holdings = counter_of(request).holdings()
    if not holdings.tubes and not holdings.boxes and not removed:
        return RedirectResponse("/", 303)
    note = ""
    tubes: tuple[Tube, ...] = ()
    try:
        tubes = holdings.found(search.up_to(_price(at_most)))
    except UserError as error:
        note = error.message
    if not search.q.strip():
        tubes = on_the_rack(holdings, tubes)
    found = FoundTubes.of(tubes, (at - 1) * PER_PAGE, PER_PAGE)
    fields = asdict(search) | {"at_most": at_most}
    kept = {name: "1" if value is True else value for name, value in fields.items() if value}
    return page(
        request,
        "tubes.html",
        here="tubes",
        revision=holdings.revision,
        found=found,
        note=note,
        fields=fields,
        kept=kept,
        narrowed=any(v for n, v in kept.items() if n not in ("q",)),
        hues=HUES,
        permanences=PERMANENCES,
        holdings=holdings,
        at=at,
        pages=-(-found.total // PER_PAGE),
        lightfastness=lightfastness,
        shop_of=shop_of,
        removed=removed if removed and removed not in holdings.by_id else "",
    )


def on_the_rack(holdings: Holdings, tubes: tuple[Tube, ...]) -> tuple[Tube, ...]:
    """Tubes as a rack shows them, by medium and round the hues; of many only in their own order."""
    if len(tubes) > _ON_A_RACK:
        return tubes
    return holdings.remember(
        ("rack", tubes), lambda: tuple(sorted(tubes, key=lambda t: rack_place(holdings, t)))
    )


def _price(text: str) -> float | None:
    """A typed price, with a point or a comma; None where none was typed. Raises UserError."""
    if not text.strip():
        return None
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise UserError(f"“{text}” is no price; write a number such as 12.50") from None


@router.get("/label")
def label(
    request: Request,
    text: Annotated[str, Query(max_length=4000)] = "",
    name: Name = "",
) -> Response:
    """A label as we read it, its codes and doubts marked."""
    holdings = counter_of(request).holdings()
    reading = labels.read(text, name=name) if text or name else None
    own = [] if reading is None else _marks(reading)
    kin = holdings.by_paint.get(tuple(sorted(reading.refs)), []) if reading and reading.refs else []
    return page(
        request,
        "label.html",
        here="tubes",
        revision=holdings.revision,
        text=text,
        name=name,
        reading=reading,
        marks=own,
        kin=kin[:12],
        holdings=holdings,
        shop_of=shop_of,
    )


def _marks(reading: labels.Reading) -> list[tuple[int, int, str, str]]:
    marks = [(*p.span, "code", p.name or "not in the register") for p in reading.pigments]
    for warning in reading.warnings:
        if warning.span is not None and warning.where == "label":
            marks.append((*warning.span, "doubt", warning.message))
    return marks


def _pigments(tube: Tube) -> list[tuple[str, str, bool, Pigment | None]]:
    register = load()
    return [
        (pigment_text(shown), p.form, p.form_assumed, register.get(p.code))
        for shown, p in zip(tube.pigments, tube.reading.pigments, strict=True)
    ]


def known_tube(holdings: Holdings, tube_id: str) -> Tube:
    """The tube of an id. Raises MissingError."""
    tube = holdings.tube(tube_id)
    if tube is None:
        raise MissingError(
            "There is no such tube here. It may have been removed, or its name or size changed."
        )
    return tube


@router.get("/tubes/{tube_id}")
def tube(
    request: Request, tube_id: str, added: Name = "", back: Name = "", removed_picture: int = 0
) -> Response:
    """One tube: its strip, what is in it, what else holds the same, where the name misleads."""
    holdings = counter_of(request).holdings()
    tube = known_tube(holdings, tube_id)
    same = same_pigments(tube, holdings.by_paint.get(tuple(sorted(tube.refs)), []))
    other = same_name(tube, holdings.tubes)
    paint = holdings.shelf.tube(tube)
    known = about(tube)
    return page(
        request,
        "tube.html",
        here="tubes",
        revision=holdings.revision,
        tube=tube,
        look_of=holdings.seen(tube),
        paint=paint,
        marks=_marks(tube.reading),
        pigments=_pigments(tube),
        known=known,
        cautions=known.cautions,
        lasting=known.lightfastness,
        same=same[:30],
        same_total=len(same),
        other=other[:30],
        holdings=holdings,
        shop=shop_of(tube),
        shop_of=shop_of,
        sets=[(name, [b.seat for b in boxes]) for name, boxes in holdings.boxes.items()],
        in_catalogue=tube.id in holdings.by_id,
        added=added,
        removed_picture=removed_picture,
        pictures=holdings.store.pictures_of(tube),
    )


@router.post("/tubes/{tube_id}/box", dependencies=[Depends(may_change)])
def add_to_box(
    request: Request,
    tube_id: str,
    box: Annotated[str, Form(max_length=420)] = "",
    seat: Annotated[str, Form(max_length=200)] = "",
) -> Response:
    """Put a tube into a seat's box; `box` is the set's name and the seat, parted by a line end."""
    counter = counter_of(request)
    tube = known_tube(counter.holdings(), tube_id)
    wanted = put_into_box(counter, [tube], box, seat)
    return RedirectResponse(f"/tubes/{_quoted(tube.id)}?added={_quoted(wanted)}", 303)


@router.post("/tubes/{tube_id}/remove", dependencies=[Depends(may_change)])
def remove(request: Request, tube_id: str) -> Response:
    """Take a tube out of the catalogue; the next page offers to undo it."""
    counter = counter_of(request)
    if not counter.change(lambda store: store.delete_tube(tube_id)):
        raise MissingError("There is no such tube here; it may have been removed already.")
    return RedirectResponse(f"/tubes?removed={_quoted(tube_id)}", 303)


@router.post("/tubes/{tube_id}/restore", dependencies=[Depends(may_change)])
def restore(request: Request, tube_id: str) -> Response:
    """Bring a removed tube back."""
    if not counter_of(request).change(lambda store: store.restore_tube(tube_id)):
        raise MissingError("There is no removed tube of that name to bring back.")
    return RedirectResponse(f"/tubes/{_quoted(tube_id)}", 303)


def _quoted(text: str) -> str:
    from urllib.parse import quote

    return quote(text, safe="")
