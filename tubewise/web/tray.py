"""The tray: tubes a visitor keeps at hand from page to page, in a cookie of this browser alone."""

from __future__ import annotations

from collections.abc import Iterable
from urllib.parse import quote, unquote

from tubewise.tubes.tube import Tube
from tubewise.web.holdings import Holdings

COOKIE = "tray"
# As many as a palette holds; the cookie stays under the four thousand letters a browser keeps.
MOST = 12
_BETWEEN = "~"
_DAYS = 60


def tray_of(holdings: Holdings, cookie: str) -> tuple[Tube, ...]:
    """The tubes of a cookie that are still here, in the order they were laid."""
    ids = (unquote(part) for part in cookie.split(_BETWEEN) if part)
    found = (holdings.tube(tube_id) for tube_id in dict.fromkeys(ids))
    return tuple(tube for tube in found if tube is not None)[:MOST]


def tray_cookie(tubes: Iterable[Tube]) -> str:
    """The Set-Cookie value that keeps these. Scripts may read how many there are."""
    value = _BETWEEN.join(quote(tube.id, safe="") for tube in tubes)
    return f"{COOKIE}={value}; Path=/; SameSite=Strict; Max-Age={_DAYS * 86_400}"
