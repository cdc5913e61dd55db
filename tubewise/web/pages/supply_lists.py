"""Supply lists: shown by pigment, typed in, sent as a spreadsheet, removed and brought back."""

from __future__ import annotations

from dataclasses import replace
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Form, Request
from fastapi.responses import RedirectResponse, Response

from tubewise.errors import UserError
from tubewise.tubes.occasion import occasion
from tubewise.tubes.supply import SupplyList, read_supply_list
from tubewise.tubes.typed import typed_mixes, typed_slots
from tubewise.web.changes import LongText, Typed, may_change
from tubewise.web.class_choice import choice_of, workshop_of
from tubewise.web.missing import MissingError
from tubewise.web.questions import ClassAsked, Name
from tubewise.web.render import counter_of, page
from tubewise.web.uploads import Upload, uploaded

router = APIRouter()


@router.get("/class/list")
def supply_list(
    request: Request, address: ClassAsked, removed: Name = "", saved: Name = ""
) -> Response:
    """The supply list by pigment: each slot with what it accepts and how that looks."""
    holdings = counter_of(request).holdings()
    choice = choice_of(holdings, address)
    workshop = workshop_of(holdings, choice)
    return page(
        request,
        "supply.html",
        here="class",
        revision=holdings.revision,
        holdings=holdings,
        choice=choice,
        asking=choice.asking,
        supply=workshop.supply if workshop else None,
        standards=workshop.standards if workshop else (),
        removed=removed if removed not in choice.lists else "",
        saved=saved,
    )


@router.post("/class/list", dependencies=[Depends(may_change)])
def save_list(
    request: Request,
    name: Typed = "",
    slots: LongText = "",
    mixes: LongText = "",
    medium: Annotated[str, Form(max_length=60)] = "",
    title: Typed = "",
    date: Typed = "",
    place: Typed = "",
) -> Response:
    """Keep a typed supply list: one slot a line, one mix a line."""
    if not name.strip():
        raise UserError("Give the workshop a name.")
    supply = SupplyList(
        name.strip(),
        typed_slots(slots, medium.strip()),
        typed_mixes(mixes),
        occasion(title, date, place),
    )
    if not supply.slots:
        raise UserError("Write at least one slot, such as: Permanent rose: PV19/gamma | PR122")
    return _keep(request, supply)


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
    return _keep(request, supply)


def _keep(request: Request, supply: SupplyList) -> Response:
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
