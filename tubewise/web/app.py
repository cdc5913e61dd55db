"""The application: pages and JSON over one store, behind one door."""

from __future__ import annotations

import logging
from importlib.metadata import version
from importlib.resources import files
from pathlib import Path
from typing import cast

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from fastapi.staticfiles import StaticFiles
from starlette.exceptions import HTTPException

from tubewise.errors import UserError
from tubewise.store.store import Store
from tubewise.web import api
from tubewise.web.access import Access
from tubewise.web.changes import NotAllowedError, StaleFormError
from tubewise.web.counter import Counter
from tubewise.web.door import LOOPBACK, App, Door
from tubewise.web.missing import MissingError
from tubewise.web.pages import (
    classroom,
    measurements,
    mixing,
    names,
    sheets,
    side,
    start,
    tubes,
)
from tubewise.web.render import page

log = logging.getLogger("tubewise.web")


def application(
    store: Store,
    code: str = "",
    hosts: frozenset[str] = LOOPBACK,
    warm: bool = False,
) -> App:
    """The app over a store, as an ASGI callable.

    `code` is the access code that changes need, empty for none; `hosts` the names it answers to,
    empty for any; `warm` paints every tube ahead of being asked.
    """
    app = FastAPI(
        title="tubewise",
        version=version("tubewise"),
        summary="Pigment by pigment: what is in a tube, and what it mixes to.",
        docs_url=None,
        redoc_url=None,
        openapi_url="/api/openapi.json",
    )
    counter = Counter(store, warm)
    access = Access(code)
    app.state.counter = counter
    app.state.access = access
    app.state.pending = {}
    for part in (start, tubes, side, mixing, classroom, names, measurements, sheets):
        app.include_router(part.router, include_in_schema=False)
    app.include_router(api.router)
    static = Path(str(files("tubewise.web").joinpath("static")))
    app.mount("/static", StaticFiles(directory=static), name="static")
    _tell_faults(app)
    if warm:
        counter.holdings()
    return Door(cast(App, app), counter, access, hosts)


def _tell_faults(app: FastAPI) -> None:
    def told(
        request: Request,
        status: int,
        title: str,
        message: str,
        problems: tuple[str, ...] = (),
        where: str = "",
    ) -> Response:
        if request.scope["path"].startswith("/api"):
            body = {"error": message, "where": where, "problems": list(problems)}
            return JSONResponse(body, status)
        return page(
            request,
            "problem.html",
            here="",
            status=status,
            title=title,
            message=message,
            problems=problems,
            where=where,
            status_code=status,
        )

    @app.exception_handler(UserError)
    def _user(request: Request, error: UserError) -> Response:
        return told(request, 422, "That did not work", error.message, error.problems, error.where)

    @app.exception_handler(MissingError)
    def _missing(request: Request, error: MissingError) -> Response:
        return told(request, 404, "Not here", str(error))

    @app.exception_handler(NotAllowedError)
    def _not_allowed(request: Request, error: NotAllowedError) -> Response:
        return told(
            request, 403, "Reading only", "Changes need the access code. Nothing was changed."
        )

    @app.exception_handler(StaleFormError)
    def _stale(request: Request, error: StaleFormError) -> Response:
        return told(
            request,
            403,
            "This form is out of date",
            "Nothing was changed. Go back, load the page again and send the form once more; "
            "cookies must be allowed.",
        )

    @app.exception_handler(RequestValidationError)
    def _invalid(request: Request, error: RequestValidationError) -> Response:
        problems = tuple(
            f"{'.'.join(str(part) for part in fault['loc'][1:]) or 'request'}: {fault['msg']}"
            for fault in error.errors()
        )
        return told(
            request, 422, "That did not work", "Something here is not as it should be:", problems
        )

    @app.exception_handler(HTTPException)
    def _http(request: Request, error: HTTPException) -> Response:
        if error.status_code == 404:
            return told(request, 404, "Not here", "There is nothing at this address.")
        if error.status_code == 405:
            return told(request, 405, "That did not work", "This address is not asked that way.")
        return told(request, error.status_code, "That did not work", str(error.detail))

    @app.exception_handler(Exception)
    def _ours(request: Request, error: Exception) -> Response:
        log.error("a fault of ours at %s", request.scope["path"], exc_info=error)
        return told(
            request,
            500,
            "A fault of ours",
            "This is no fault of yours, and nothing was changed. The server's window says more.",
        )
