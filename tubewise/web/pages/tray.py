"""The tray's page: the tubes kept at hand, to be laid side by side, mixed, boxed or printed."""

from __future__ import annotations

from typing import Annotated
from urllib.parse import urlencode, urlsplit

from fastapi import APIRouter, Cookie, Depends, Form, Request
from fastapi.responses import RedirectResponse, Response

from tubewise.advice.classroom.shopping import shop_of
from tubewise.tubes.tube import Tube
from tubewise.web.boxing import put_into_box
from tubewise.web.changes import may_change
from tubewise.web.pages.tubes import known_tube
from tubewise.web.questions import Name
from tubewise.web.render import counter_of, page
from tubewise.web.tray import MOST, tray_cookie, tray_of

router = APIRouter()
Kept = Annotated[str, Cookie(alias="tray", max_length=4_000)]


@router.get("/tray")
def tray(request: Request, added: Name = "", kept: Kept = "") -> Response:
    """The tubes on the tray as touching strips, and what can be done with them."""
    holdings = counter_of(request).holdings()
    answer = page(
        request,
        "tray.html",
        here="tray",
        holdings=holdings,
        tubes=tray_of(holdings, kept),
        shop_of=shop_of,
        most=MOST,
        added=added,
        sets=[(name, [box.seat for box in boxes]) for name, boxes in holdings.boxes.items()],
    )
    answer.headers["cache-control"] = "no-store"
    return answer


@router.post("/tray")
def change(
    request: Request,
    lay: Annotated[str, Form(max_length=400)] = "",
    take: Annotated[str, Form(max_length=400)] = "",
    kept: Kept = "",
) -> Response:
    """Lay a tube on the tray or take it off: the visitor's own cookie, nothing of the store."""
    holdings = counter_of(request).holdings()
    tubes = [tube for tube in tray_of(holdings, kept) if tube.id != take]
    if lay:
        tubes = _with(tubes, known_tube(holdings, lay))
    answer = RedirectResponse(_back(request), 303)
    answer.headers.append("set-cookie", tray_cookie(tubes))
    return answer


@router.post("/tray/box", dependencies=[Depends(may_change)])
def put_in(
    request: Request,
    box: Annotated[str, Form(max_length=420)] = "",
    seat: Annotated[str, Form(max_length=200)] = "",
    kept: Kept = "",
) -> Response:
    """Put everything on the tray into a seat's box; the tray stays as it is."""
    counter = counter_of(request)
    tubes = tray_of(counter.holdings(), kept)
    whose = put_into_box(counter, tubes, box, seat)
    return RedirectResponse(f"/tray?{urlencode({'added': whose})}", 303)


def _with(tubes: list[Tube], tube: Tube) -> list[Tube]:
    """The tube laid last; where the tray is full the oldest makes room."""
    return [*(t for t in tubes if t.id != tube.id), tube][-MOST:]


def _back(request: Request) -> str:
    """The page one came from, by its path here; the tray without one."""
    came = urlsplit(request.headers.get("referer", ""))
    if came.netloc != request.headers.get("host", "") or not came.path.startswith("/"):
        return "/tray"
    return "/" + came.path.lstrip("/\\") + (f"?{came.query}" if came.query else "")
