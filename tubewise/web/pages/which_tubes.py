"""Which tubes: what a box reaches, the widest few of a shop, the next tube, what is lost."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import Response

from tubewise.advice.palette.lesson import LessonWishes, lesson, lesson_offer
from tubewise.advice.palette.next_tube import next_tube
from tubewise.advice.palette.offer import offer_of
from tubewise.advice.palette.reach import Range, range_of, widest_range
from tubewise.advice.palette.versus import versus
from tubewise.advice.palette.without import without
from tubewise.errors import UserError
from tubewise.sheets.palette_card import pages
from tubewise.web.holdings import Holdings
from tubewise.web.reach_drawing import reach_svg
from tubewise.web.render import counter_of, page, waiting_page
from tubewise.web.sources import Source, source_of, sources_of

router = APIRouter()
ASKS = {
    "widest": "the few that reach most",
    "box": "what these reach together",
    "lesson": "for a lesson: the fewest for a supply list",
    "next": "the next tube, from another box or shop",
    "without": "what is lost without one tube",
    "versus": "these beside another box",
}
Short = Annotated[str, Query(max_length=200)]


@dataclass(frozen=True, kw_only=True)
class Question:
    """Which tubes, as an address asks for it."""

    ask: Short = ""
    box: Short = ""
    other: Short = ""
    list: Short = ""
    tube: Short = ""
    count: Annotated[int, Query(ge=1, le=12)] = 6
    within: Annotated[float, Query(ge=0.5, le=20.0)] = 2.0


@router.get("/which-tubes")
def which_tubes(request: Request, question: Annotated[Question, Depends()]) -> Response:
    """One question about palettes and its answer."""
    counter = counter_of(request)
    if question.ask and counter.is_compiling:
        return waiting_page(request, here="which", title="Choosing tubes")
    holdings = counter.holdings()
    answer: Any = None
    fault = None
    if question.ask and sources_of(holdings):
        try:
            answer = _answer(holdings, question)
        except UserError as error:
            fault = error
    return page(
        request,
        "which_tubes.html",
        here="which",
        revision=holdings.revision,
        question=question,
        asks=ASKS,
        sources=sources_of(holdings),
        lists=holdings.store.supply_list_names(),
        reach=reach_svg,
        answer=answer,
        fault=fault,
    )


@router.get("/which-tubes/card.pdf")
def card(request: Request, question: Annotated[Question, Depends()]) -> Response:
    """The palette card of a range, to print."""
    holdings = counter_of(request).holdings()
    answer = _answer(holdings, question)
    if not isinstance(answer, Range):
        raise UserError("A card shows what a palette reaches; ask for that first.")
    (pdf,) = pages(answer)
    headers = {"content-disposition": 'inline; filename="palette.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def _answer(holdings: Holdings, question: Question) -> Any:
    return holdings.remember_heavy(("which", question), lambda: answer_of(holdings, question))


def answer_of(holdings: Holdings, question: Question) -> Any:
    """The advice's own answer to a question. Raises UserError."""
    here = source_of(holdings, question.box)
    shelf = holdings.shelf

    def offered(source: Source) -> Any:
        return offer_of(source.tubes, shelf, in_stock=source.is_stock)

    if question.ask == "lesson":
        supply = holdings.store.supply_list(question.list)
        if supply is None:
            raise UserError("There is no such supply list here; choose one from the list.")
        offer = lesson_offer(supply, here.tubes, shelf)
        wishes = LessonWishes(within=question.within, seconds=20.0)
        return lesson(supply, offer, shelf, holdings.tubes, wishes)
    offer = offered(here)
    if question.ask == "widest":
        return widest_range(offer, question.count, shelf)
    if question.ask == "box":
        return range_of(offer.kinds, shelf, offer.medium)
    if question.ask == "without":
        return without(offer, question.tube, shelf)
    other = offered(source_of(holdings, question.other))
    if question.ask == "next":
        return next_tube(offer, other, shelf)
    if question.ask == "versus":
        return versus(offer, other, shelf)
    raise UserError("Choose one of the questions.")
