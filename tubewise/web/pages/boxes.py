"""Boxes: every seat's tubes, typed in, sent as a spreadsheet, removed and brought back."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import RedirectResponse, Response

from tubewise.errors import UserError
from tubewise.tubes.catalogue import read_boxes, write_boxes
from tubewise.tubes.tube import box_of
from tubewise.tubes.typed import TypedTubes, as_typed, count_lines
from tubewise.web.changes import LongText, Typed, may_change
from tubewise.web.class_choice import choice_of
from tubewise.web.missing import MissingError
from tubewise.web.questions import ClassAddress, ClassAsked, Name
from tubewise.web.render import counter_of, page
from tubewise.web.uploads import Upload, uploaded

router = APIRouter()
SetName = Annotated[str | None, Query(max_length=200)]
MOST_SEATS = 400
MOST_TYPED = 200
FILE_KINDS = {
    "csv": "text/csv",
    "xlsx": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


@router.get("/class/boxes")
def boxes_page(
    request: Request,
    address: ClassAsked,
    seat: Name = "",
    removed: Name = "",
    saved: Name = "",
) -> Response:
    """Every seat's box, a form to type one in, and one to send a spreadsheet."""
    holdings = counter_of(request).holdings()
    choice = choice_of(holdings, address)
    every = holdings.boxes.get(choice.boxes, ())
    return page(
        request,
        "boxes.html",
        here="class",
        revision=holdings.revision,
        holdings=holdings,
        choice=choice,
        asking=choice.asking,
        boxes=every,
        read=holdings.boxes_read.get(choice.boxes, ()),
        typed=next(("\n".join(map(as_typed, b.tubes)) for b in every if b.seat == seat), ""),
        seat=seat,
        removed=removed if removed not in [b.seat for b in every] else "",
        saved=saved,
    )


@router.post("/class/boxes", dependencies=[Depends(may_change)])
def save_box(
    request: Request, seat: Typed = "", boxes: Typed = "", tubes: LongText = ""
) -> Response:
    """Keep one typed box: a tube a line."""
    seat = seat.strip()
    if not seat:
        raise UserError("Say whose box it is.")
    if count_lines(tubes) > MOST_TYPED:
        raise UserError(f"More than {MOST_TYPED} tubes are too many for one box.")
    counter = counter_of(request)
    holdings = counter.holdings()
    reader = holdings.remember(("typed tubes",), lambda: TypedTubes(holdings.tubes))
    before = box_of(holdings.boxes.get(boxes, ()), seat)
    box = reader.box(seat, tubes, before)
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
    count = f"{len(found)} seats"
    return RedirectResponse(f"/class/boxes?{urlencode({'boxes': boxes, 'saved': count})}", 303)


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
def boxes_file(request: Request, kind: str, boxes: SetName = None) -> Response:
    """The boxes as a spreadsheet that reads back; nothing in it runs as a formula."""
    if kind not in FILE_KINDS:
        raise MissingError("Boxes are given as CSV or XLSX.")
    holdings = counter_of(request).holdings()
    choice = choice_of(holdings, ClassAddress(boxes=boxes))
    with tempfile.TemporaryDirectory(prefix="tubewise-") as folder:
        path = Path(folder) / f"boxes.{kind}"
        write_boxes(path, holdings.boxes.get(choice.boxes, ()))
        data = path.read_bytes()
    return Response(
        data,
        media_type=FILE_KINDS[kind],
        headers={"content-disposition": f'attachment; filename="boxes.{kind}"'},
    )
