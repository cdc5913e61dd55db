"""What went wrong, told as a page, or as JSON where JSON was asked for."""

from __future__ import annotations

import logging
from collections.abc import Callable
from dataclasses import dataclass
from urllib.parse import parse_qsl, urlencode

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse, Response
from starlette.exceptions import HTTPException

from tubewise.errors import UserError
from tubewise.store.damage import DamagedStoreError
from tubewise.web.changes import NotAllowedError, StaleFormError
from tubewise.web.door import NOT_YET
from tubewise.web.missing import MissingError
from tubewise.web.render import page, waiting_page
from tubewise.web.works import BusyError, NotYetError

_AGAIN_S = 5
log = logging.getLogger("tubewise.web")


@dataclass(frozen=True, kw_only=True)
class Fault:
    """A fault for the person: its status, a title, what happened and what to do.

    `ways` are addresses with a word of the address made right, each with what it then means.
    """

    status: int
    title: str
    message: str
    problems: tuple[str, ...] = ()
    where: str = ""
    ways: tuple[tuple[str, str], ...] = ()


def tell_faults(app: FastAPI) -> None:
    """Answer every exception with a page or JSON that says what happened."""
    app.add_exception_handler(NotYetError, _not_yet)
    for kind, read in _READERS.items():
        app.add_exception_handler(kind, _handler(read))


def _handler(
    read: Callable[[Request, Exception], Fault],
) -> Callable[[Request, Exception], Response]:
    return lambda request, error: _answer(request, read(request, error))


def _answer(request: Request, fault: Fault) -> Response:
    if request.scope["path"].startswith("/api"):
        body = {"error": fault.message, "where": fault.where, "problems": list(fault.problems)}
        return JSONResponse(body, fault.status, _when(fault.status))
    answer = page(
        request,
        "problem.html",
        here="",
        status=fault.status,
        title=fault.title,
        message=fault.message,
        problems=() if fault.ways else fault.problems,
        ways=fault.ways,
        where=fault.where,
        status_code=fault.status,
    )
    answer.headers.update(_when(fault.status))
    if fault.status == 503 and request.method == "GET":
        answer.headers["refresh"] = f"{_AGAIN_S}"  # the page asks again by itself
    return answer


def _when(status: int) -> dict[str, str]:
    return {"retry-after": f"{_AGAIN_S}", "cache-control": "no-store"} if status == 503 else {}


def _not_yet(request: Request, error: Exception) -> Response:
    """What whoever asked sees if the answer takes longer than they should wait."""
    assert isinstance(error, NotYetError)
    request.scope[NOT_YET].append(error)
    if request.scope["path"].startswith("/api"):
        words = "This is still being worked out; ask again."
        body = {"error": words, "where": "", "problems": []}
        return JSONResponse(body, 503, _when(503))
    done, every = error.work.progress.done, error.work.progress.all
    title = "Working it out"
    return waiting_page(request, here="", title=title, done=done, every=every, of_what="part")


def _busy(request: Request, error: Exception) -> Fault:
    return Fault(status=503, title="Busy at this moment", message=str(error))


def _of_the_person(request: Request, error: Exception) -> Fault:
    assert isinstance(error, UserError)
    ways = _ways(request, error)
    return Fault(
        status=422,
        title="Which of these?" if ways else "That did not work",
        message=error.message,
        problems=error.problems,
        where=error.where,
        ways=ways,
    )


def _ways(request: Request, error: UserError) -> tuple[tuple[str, str], ...]:
    """The same address with each of what may be meant in the place of what was typed."""
    if request.method != "GET" or not error.typed:
        return ()
    pairs = parse_qsl(request.scope["query_string"].decode("latin-1"), keep_blank_values=True)
    return tuple(
        # A page shows what the tube is called; its id is in the address.
        (
            f"{request.scope['path']}?{urlencode(_instead(pairs, error.typed, right))}",
            words.partition(": ")[2] or words,
        )
        for right, words in zip(error.instead, error.problems, strict=True)
    )


def _instead(words: list[tuple[str, str]], typed: str, right: str) -> list[tuple[str, str]]:
    return [(name, value.replace(typed, right, 1)) for name, value in words]


def _damaged(request: Request, error: Exception) -> Fault:
    assert isinstance(error, DamagedStoreError)
    log.error("the store is damaged: %s", error)
    return Fault(
        status=503,
        title="The store is damaged",
        message=error.message,
        problems=error.problems,
    )


def _missing(request: Request, error: Exception) -> Fault:
    return Fault(status=404, title="Not here", message=str(error))


def _not_allowed(request: Request, error: Exception) -> Fault:
    return Fault(
        status=403,
        title="Reading only",
        message="Changes need the access code. Nothing was changed.",
    )


def _stale_form(request: Request, error: Exception) -> Fault:
    return Fault(
        status=403,
        title="This form is out of date",
        message="Nothing was changed. Go back, load the page again and send the form once more; "
        "cookies must be allowed.",
    )


def _invalid(request: Request, error: Exception) -> Fault:
    assert isinstance(error, RequestValidationError)
    return Fault(
        status=422,
        title="That did not work",
        message="Something here is not as it should be:",
        problems=tuple(
            f"{'.'.join(str(part) for part in fault['loc'][1:]) or 'request'}: {fault['msg']}"
            for fault in error.errors()
        ),
    )


def _of_http(request: Request, error: Exception) -> Fault:
    assert isinstance(error, HTTPException)
    if error.status_code == 404:
        return Fault(status=404, title="Not here", message="There is nothing at this address.")
    words = "This address is not asked that way." if error.status_code == 405 else error.detail
    return Fault(status=error.status_code, title="That did not work", message=str(words))


def _ours(request: Request, error: Exception) -> Fault:
    log.error("a fault of ours at %s", request.scope["path"], exc_info=error)
    return Fault(
        status=500,
        title="A fault of ours",
        message="This is no fault of yours, and nothing was changed. The server's window says "
        "more.",
    )


_READERS: dict[type[Exception], Callable[[Request, Exception], Fault]] = {
    DamagedStoreError: _damaged,
    UserError: _of_the_person,
    MissingError: _missing,
    BusyError: _busy,
    NotAllowedError: _not_allowed,
    StaleFormError: _stale_form,
    RequestValidationError: _invalid,
    HTTPException: _of_http,
    Exception: _ours,
}
