"""My box: what it holds, what it can mix, where its gaps are, and which tube comes next."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response

from tubewise.advice.counter.hue_order import place_on_rack
from tubewise.advice.counter.hues import hues
from tubewise.tubes.tube import Tube
from tubewise.web.holdings import Holdings
from tubewise.web.questions import Words
from tubewise.web.render import counter_of, page
from tubewise.web.sources import source_of, sources_of

router = APIRouter()


@router.get("/box")
def box(request: Request, box: Words = "") -> Response:
    """One box as a palette; without one, every box to pick from."""
    holdings = counter_of(request).holdings()
    owned = [source for source in sources_of(holdings) if not source.is_stock]
    chosen = source_of(holdings, box) if box else (owned[0] if len(owned) == 1 else None)
    return page(
        request,
        "box.html",
        here="box",
        revision=holdings.revision,
        holdings=holdings,
        owned=owned,
        chosen=chosen,
        tubes=_in_order(holdings, chosen.tubes) if chosen else (),
        in_order=lambda tubes: _in_order(holdings, tubes),
    )


def _in_order(holdings: Holdings, tubes: tuple[Tube, ...]) -> list[Tube]:
    def place(tube: Tube) -> tuple[object, ...]:
        look = holdings.seen(tube)
        return place_on_rack(hues(tube, look.colour), look.colour, look.strip)

    return sorted(tubes, key=place)
