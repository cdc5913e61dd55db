"""The first page, the demo workshop, and the access code."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Annotated
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Form, Request
from fastapi.responses import RedirectResponse, Response

from tubewise.demo.titles import ABOUT, FIRST, TITLES
from tubewise.errors import UserError
from tubewise.store.store import Imported, Store
from tubewise.tubes.catalogue import read_boxes, read_catalogue
from tubewise.tubes.columns import COLUMNS
from tubewise.tubes.exports import IGNORED, Export, headings_of, read_export
from tubewise.tubes.supply import read_supply_list
from tubewise.web.access import Access
from tubewise.web.changes import may_change
from tubewise.web.door import visitor_cookie
from tubewise.web.pages.instead import sold_out
from tubewise.web.pages.pigments import band
from tubewise.web.render import counter_of, page
from tubewise.web.uploads import Upload, uploaded

router = APIRouter()


@router.get("/")
def start(request: Request) -> Response:
    """The first page: a band of paint, and a door for the counter, the class and one's own box."""
    holdings = counter_of(request).holdings()
    lists = holdings.store.supply_list_names()
    return page(
        request,
        "first.html",
        here="start",
        revision=holdings.revision,
        holdings=holdings,
        band=band(holdings),
        gone=len(sold_out(holdings)),
        boxes=[(name, [box.seat for box in boxes]) for name, boxes in holdings.boxes.items()],
        lists=lists,
        demos=_offered(lists, empty=not holdings.tubes),
    )


def _offered(lists: Sequence[str], *, empty: bool) -> list[tuple[str, str, str]]:
    """The demo workshops to bring in: medium, title and what it is about.

    All of them into an empty store, and the others beside one that is there.
    """
    if not empty and not set(lists) & set(TITLES.values()):
        return []
    return [(m, title, ABOUT[m]) for m, title in TITLES.items() if title not in lists]


def import_demo(store: Store, workshop: str = FIRST) -> str:
    """Put a demo workshop's shop, boxes and supply list into a store; their title.

    Raises UserError for a workshop that does not exist.
    """
    from tubewise.demo.workshop import folder

    here, title = folder(workshop), TITLES[workshop]
    store.import_catalogue(read_catalogue(here / "catalogue.csv"))
    store.import_boxes(read_boxes(here / "boxes.csv"), title)
    store.import_supply_list(replace(read_supply_list(here / "supply.csv"), name=title))
    return title


@router.post("/demo", dependencies=[Depends(may_change)])
def demo(request: Request, workshop: Annotated[str, Form(max_length=40)] = FIRST) -> Response:
    """Bring in a demo workshop."""
    title = counter_of(request).change(lambda store: import_demo(store, workshop))
    return RedirectResponse(f"/class?{urlencode({'list': title, 'boxes': title})}", 303)


@router.get("/tubes.import")
def catalogue_form(request: Request) -> Response:
    """Where a shop's export is sent."""
    return _catalogue_page(request)


@router.post("/tubes.import", dependencies=[Depends(may_change)])
def catalogue(
    request: Request,
    file: Upload,
    map_: Annotated[list[str], Form(alias="map", default_factory=list, max_length=100)],
    lenient: Annotated[bool, Form()] = False,
) -> Response:
    """Take in a shop's export; `map` says which column is which, as HEADING=COLUMN."""
    chosen = dict(_choice(text) for text in map_ if "=" in text)
    counter = counter_of(request)
    remembered = counter.holdings().store.chosen_columns()
    with uploaded(file) as path:
        try:
            export = read_export(path, chosen, remembered=remembered, lenient=lenient)
        except UserError as error:
            return _catalogue_page(
                request, 422, fault=error, headings=_columns_taken(path, chosen, remembered)
            )
    counts = counter.change(lambda store: store.import_catalogue(export.tubes))
    counter.change(lambda store: store.choose_columns(chosen))
    return _catalogue_page(request, counts=counts, export=export)


def _columns_taken(
    path: Path, chosen: Mapping[str, str], remembered: Mapping[str, str]
) -> tuple[tuple[str, str], ...]:
    """How the columns of a file that was refused were taken, to be told otherwise."""
    try:
        export = read_export(path, chosen, remembered=remembered, lenient=True)
    except UserError:
        return tuple((heading, "") for heading in headings_of(path))
    return tuple((mapped.heading, mapped.column) for mapped in export.mapping)


def _choice(text: str) -> tuple[str, str]:
    heading, _, column = text.rpartition("=")
    return heading, column


def _catalogue_page(
    request: Request,
    status: int = 200,
    counts: Imported | None = None,
    export: Export | None = None,
    fault: UserError | None = None,
    headings: tuple[tuple[str, str], ...] = (),
) -> Response:
    return page(
        request,
        "catalogue.html",
        here="tubes",
        status=status,
        counts=counts,
        export=export,
        fault=fault,
        headings=[(m.heading, m.column) for m in export.mapping] if export else headings,
        columns=(*COLUMNS, IGNORED),
    )


@router.get("/enter")
def enter_form(request: Request) -> Response:
    """Where the access code is typed."""
    return page(request, "enter.html", here="", wrong=False)


@router.post("/enter")
def enter(request: Request, code: Annotated[str, Form(max_length=200)] = "") -> Response:
    """Take the access code; a right one opens changes to this visitor."""
    access: Access = request.app.state.access
    visitor = access.enter(code)
    if visitor is None:
        return page(request, "enter.html", here="", wrong=True, status=403)
    answer = RedirectResponse("/tubes", 303)
    answer.headers.append("set-cookie", visitor_cookie(visitor))
    return answer


@router.post("/leave")
def leave(request: Request) -> Response:
    """Give up the right to change things on this device."""
    request.app.state.access.leave(request.scope.get("tubewise.visitor", ""))
    return RedirectResponse("/tubes", 303)
