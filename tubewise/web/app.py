"""The application: pages and JSON over one store, behind one door."""

from __future__ import annotations

from importlib.metadata import version
from importlib.resources import files
from pathlib import Path
from typing import cast

from fastapi import FastAPI
from fastapi.staticfiles import StaticFiles

from tubewise.store.store import Store
from tubewise.web import api
from tubewise.web.access import Access
from tubewise.web.counter import Counter
from tubewise.web.door import LOOPBACK, App, Door
from tubewise.web.faults import tell_faults
from tubewise.web.pages import (
    bench,
    box,
    boxes,
    classroom,
    find,
    instead,
    measurements,
    mixing,
    names,
    photographs,
    picture,
    pigments,
    sheets,
    side,
    start,
    supply_lists,
    tray,
    tubes,
    typeface,
    which_tubes,
)
from tubewise.web.photograph_jobs import PhotographJobs
from tubewise.web.sent_pictures import SentPictures
from tubewise.web.workroom import Workroom

PAGES = (
    start,
    find,
    tubes,
    pigments,
    instead,
    tray,
    side,
    mixing,
    bench,
    which_tubes,
    box,
    classroom,
    supply_lists,
    boxes,
    names,
    measurements,
    photographs,
    picture,
    pigments,
    sheets,
    typeface,
)


def application(
    store: Store,
    code: str = "",
    hosts: frozenset[str] = LOOPBACK,
    warm: bool = False,
    apart: bool = False,
) -> App:
    """The app over a store, as an ASGI callable.

    `code` is the access code that changes need, empty for none; `hosts` the names it answers to,
    empty for any; `warm` paints every tube ahead of being asked;
    `apart` has long questions worked out in processes of their own.
    """
    app = FastAPI(
        title="tubewise",
        version=version("tubewise"),
        summary="Pigment by pigment: what is in a tube, and what it mixes to.",
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
    )
    # A store in memory can be seen from no other process.
    workroom = Workroom(store.url if apart and store.is_shared else "")
    counter = Counter(store, warm, workroom)
    access = Access(code)
    app.state.counter = counter
    app.state.access = access
    app.state.pending = {}
    app.state.photographs = PhotographJobs()
    app.state.sent_pictures = SentPictures()
    for part in PAGES:
        app.include_router(part.router, include_in_schema=False)
    app.include_router(api.router)
    static = Path(str(files("tubewise.web").joinpath("static")))
    app.mount("/static", StaticFiles(directory=static), name="static")
    tell_faults(app)
    if warm:
        counter.holdings()
    return Door(cast(App, app), counter, access, hosts)
