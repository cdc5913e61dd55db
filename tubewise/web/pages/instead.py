"""Instead: what takes the place of a tube that is sold out, from what is in stock."""

from __future__ import annotations

from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import Response

from tubewise.advice.alike.standin import standin
from tubewise.advice.alike.standin_results import StandIns, StandInWishes
from tubewise.advice.classroom.shopping import shop_of
from tubewise.advice.counter.hue_order import place_on_rack
from tubewise.advice.counter.hues import hues
from tubewise.errors import UserError
from tubewise.labels import parse_ref
from tubewise.pigments.purpose import Purpose, purpose_typed
from tubewise.search.compiled import ready
from tubewise.tubes.tube import Tube
from tubewise.web.holdings import Holdings
from tubewise.web.questions import Name, PurposeText, Words
from tubewise.web.render import counter_of, page, waiting_page
from tubewise.web.typed import typed
from tubewise.web.works import Progress

router = APIRouter()
_MOST = 6
# Most answers come sooner; somebody stands at the counter.
_PATIENCE_S = 0.8


@router.get("/instead")
def instead(request: Request, t: Words = "", for_: PurposeText = "", medium: Name = "") -> Response:
    """The stand-ins for a tube or a pigment; without one, what is sold out, to be tapped."""
    holdings = counter_of(request).holdings()
    wanted = _wanted(holdings, t.strip())
    shared: dict[str, Any] = {
        "here": "instead",
        "revision": holdings.revision,
        "holdings": holdings,
        "text": t,
    }
    if wanted is None:
        found = typed(holdings, t) if t.strip() else None
        gone = () if found else sold_out(holdings)
        return page(request, "instead.html", found=found, gone=gone, media=(), **shared)
    if isinstance(wanted, str) and not medium and len(holdings.media) > 1:
        # A pigment says nothing of its binder, and what takes its place hangs on that.
        media = holdings.media
        return page(request, "instead.html", found=None, gone=(), media=media, **shared)
    answer = _standins(holdings, wanted, purpose_typed(for_), medium)
    if isinstance(answer, Progress):
        return waiting_page(request, here="instead", title="Comparing tubes")
    return page(
        request,
        "instead_answer.html",
        answer=answer,
        tube=wanted if isinstance(wanted, Tube) else None,
        purpose=for_,
        pairs=lambda made: [("p", f"{part.tube}={part.parts:g}") for part in made.parts],
        shop_of=shop_of,
        **shared,
    )


def _wanted(holdings: Holdings, text: str) -> Tube | str | None:
    """The tube of an id, the one tube of a name, or a pigment; None where one must pick."""
    tube = holdings.tube(text)
    if tube is not None or not text:
        return tube
    try:
        return parse_ref(text).ref
    except UserError:
        found = typed(holdings, text)
        return found.tubes[0] if found.total == 1 else None


def sold_out(holdings: Holdings) -> tuple[Tube, ...]:
    """What nobody here has in stock, in the order of a rack."""

    def gather() -> tuple[Tube, ...]:
        gone = (tube for tube in holdings.tubes if tube.stock == 0)
        return tuple(sorted(gone, key=lambda tube: rack_place(holdings, tube)))

    return holdings.remember(("sold out",), gather)


def rack_place(holdings: Holdings, tube: Tube) -> tuple[object, ...]:
    """Where a tube stands on the rack: its medium, then by hue."""
    look = holdings.seen(tube)
    return (tube.medium, *place_on_rack(hues(tube, look.colour), look.colour, look.strip))


def _standins(
    holdings: Holdings, wanted: Tube | str, purpose: Purpose, medium: str
) -> StandIns | Progress:
    key = wanted.id if isinstance(wanted, Tube) else wanted
    found: StandIns | Progress = holdings.begin(
        compare_all, key, purpose, medium, lane="quick", patience=_PATIENCE_S
    )
    return found


def compare_all(
    holdings: Holdings, progress: Progress, key: str, purpose: Purpose, medium: str
) -> StandIns:
    """The stand-ins themselves, which take their time. Raises UserError."""
    ready()
    return standin(
        holdings.tube(key) or key,
        holdings.tubes,
        holdings.shelf,
        most=_MOST,
        progress=progress.step,
        medium=medium,
        wishes=StandInWishes(purpose=purpose),
    )
