"""Which tubes: what a box reaches, the widest few of a shop, the next tube, what is lost."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Form, Query, Request
from fastapi.responses import RedirectResponse, Response

from tubewise.advice.palette.lesson import LessonWishes, lesson, lesson_offer
from tubewise.advice.palette.next_tube import next_tube
from tubewise.advice.palette.offer import offer_of
from tubewise.advice.palette.picture import Picture, picture, side_by_side
from tubewise.advice.palette.reach import Range, range_of, widest_range
from tubewise.advice.palette.versus import versus
from tubewise.advice.palette.without import without
from tubewise.advice.recipes.target import Target, target
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.pictures.extra import INSTALL, has_photos
from tubewise.pictures.opening import KINDS, open_picture
from tubewise.pictures.saving import jpeg
from tubewise.sheets.palette_card import pages
from tubewise.web.changes import may_change
from tubewise.web.holdings import Holdings
from tubewise.web.missing import MissingError
from tubewise.web.reach_drawing import reach_svg
from tubewise.web.render import counter_of, page, waiting_page
from tubewise.web.sent_pictures import SentPictures
from tubewise.web.sources import Source, source_of, sources_of
from tubewise.web.uploads import Upload, plain_file_name
from tubewise.web.works import Progress

router = APIRouter()
ASKS = {
    "lesson": "What a lesson needs",
    "picture": "What a picture needs",
    "widest": "The few that reach most",
    "next": "The next tube to buy",
    "without": "What is lost without one tube",
    "box": "What these reach together",
    "versus": "Two boxes beside each other",
}
# What each question is about, and the fields that it needs beside the tubes to choose from.
ABOUT = {
    "lesson": "The fewest tubes for a supply list: its paints, their tints and its key mixes.",
    "picture": "The fewest tubes for a photograph or a painting, and how it would look in them.",
    "widest": "So many tubes, chosen for all that can be mixed from them.",
    "next": "The one or two tubes that add most to a box, from another box or the shop.",
    "without": "Travelling without a tube: which colours go with it.",
    "box": "All that can be mixed from these tubes, what each is good for, and what is missing.",
    "versus": "What either of two boxes reaches that the other doesn't.",
}
FIELDS = {
    "lesson": ("list",),
    "picture": ("picture",),
    "widest": ("count",),
    "next": ("other", "colours"),
    "without": ("tube", "colours"),
    "box": (),
    "versus": ("other", "colours"),
}
Short = Annotated[str, Query(max_length=200)]
Long = Annotated[str, Query(max_length=4000)]
MOST_COLOURS = 60


@dataclass(frozen=True, kw_only=True)
class Question:
    """Which tubes, as an address asks for it."""

    ask: Short = ""
    box: Short = ""
    other: Short = ""
    list: Short = ""
    tube: Short = ""
    colours: Long = ""
    count: Annotated[int, Query(ge=1, le=12)] = 6
    within: Annotated[float, Query(ge=0.5, le=20.0)] = 2.0


@router.get("/which-tubes")
def which_tubes(request: Request, question: Annotated[Question, Depends()]) -> Response:
    """One question about palettes, its fields, and once they are filled in its answer."""
    counter = counter_of(request)
    ready = bool(question.ask and question.box and question.ask != "picture")
    if ready and counter.is_compiling:
        return waiting_page(request, here="which", title="Choosing tubes")
    holdings = counter.holdings()
    answer: Any = None
    fault = None
    if ready and sources_of(holdings):
        try:
            answer = holdings.begin(answer_of, question)
        except UserError as error:
            fault = error
        if isinstance(answer, Progress):
            return waiting_page(request, here="which", title="Choosing tubes")
    return _page(request, holdings, question, answer, fault)


def _page(
    request: Request,
    holdings: Holdings,
    question: Question,
    answer: Any = None,
    fault: UserError | None = None,
    **more: Any,
) -> Response:
    return page(
        request,
        "which_tubes.html",
        here="which",
        revision=holdings.revision,
        question=question,
        asks=ASKS,
        about=ABOUT,
        fields=FIELDS.get(question.ask, ()),
        sources=sources_of(holdings),
        lists=holdings.store.supply_list_names(),
        reach=reach_svg,
        answer=answer,
        fault=fault,
        has_photos=has_photos(),
        install=INSTALL,
        kinds=",".join(KINDS),
        **more,
    )


@router.post("/which-tubes/picture", dependencies=[Depends(may_change)])
def send_picture(request: Request, file: Upload, box: Annotated[str, Form()] = "") -> Response:
    """Take a picture in; its tubes are chosen outside the request."""
    name = plain_file_name(file.filename, KINDS)
    data = file.file.read()
    if not data:
        raise UserError("The file is empty; choose a picture.", where=name)
    key = _sent(request).keep(data, request.scope.get("tubewise.visitor", ""))
    return RedirectResponse(f"/which-tubes/picture/{key}?{urlencode({'box': box})}", 303)


@router.get("/which-tubes/picture/{key}.jpg")
def picture_shown(request: Request, key: str, box: Short = "") -> Response:
    """The picture as it is, and beside it as it would look."""
    answer = _painted(request, key, box)
    if isinstance(answer, Progress):
        raise MissingError("This picture is still being looked at.")
    return Response(jpeg(side_by_side(answer)), media_type="image/jpeg")


@router.get("/which-tubes/picture/{key}")
def picture_answer(request: Request, key: str, box: Short = "") -> Response:
    """The fewest tubes for a picture that was sent."""
    holdings = counter_of(request).holdings()
    question = Question(ask="picture", box=box)
    try:
        answer = _painted(request, key, box)
    except UserError as error:
        return _page(request, holdings, question, fault=error)
    if isinstance(answer, Progress):
        return waiting_page(request, here="which", title="Choosing tubes for a picture")
    shown = f"/which-tubes/picture/{key}.jpg?{urlencode({'box': box})}"
    return _page(request, holdings, question, answer, shown=shown)


def _sent(request: Request) -> SentPictures:
    found: SentPictures = request.app.state.sent_pictures
    return found


def _painted(request: Request, key: str, box: str) -> Picture | Progress:
    data = _sent(request).picture(key)
    holdings = counter_of(request).holdings()
    source = source_of(holdings, box)

    found: Picture | Progress = holdings.begin(
        paint_picture, data, source.key, key=("picture", key, source.key)
    )
    return found


def paint_picture(holdings: Holdings, _: Progress, data: bytes, box: str) -> Picture:
    """The fewest tubes for a picture, which take their time. Raises UserError."""
    source = source_of(holdings, box)
    offer = offer_of(source.tubes, holdings.shelf, in_stock=source.is_stock)
    pixels = open_picture(data, where="the picture")
    return picture(pixels, offer, holdings.shelf, seconds=20.0)


@router.get("/which-tubes/card.pdf")
def card(request: Request, question: Annotated[Question, Depends()]) -> Response:
    """The palette card of a range, to print."""
    holdings = counter_of(request).holdings()
    answer = holdings.worked_out(answer_of, question)
    if not isinstance(answer, Range):
        raise UserError("A card shows what a palette reaches; ask for that first.")
    (pdf,) = pages(answer)
    headers = {"content-disposition": 'inline; filename="palette.pdf"'}
    return Response(pdf, media_type="application/pdf", headers=headers)


def answer_of(holdings: Holdings, _: Progress, question: Question) -> Any:
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
    targets = colours_of(question.colours, shelf)
    if question.ask == "widest":
        return widest_range(offer, question.count, shelf)
    if question.ask == "box":
        return range_of(offer.kinds, shelf, offer.medium)
    if question.ask == "without":
        return without(offer, question.tube, shelf, targets)
    other = offered(source_of(holdings, question.other))
    if question.ask == "next":
        return next_tube(offer, other, shelf, targets)
    if question.ask == "versus":
        return versus(offer, other, shelf, targets)
    raise UserError("Choose one of the questions.")


def colours_of(text: str, shelf: Shelf) -> tuple[Target, ...]:
    """The colours of a field, one a line. Raises UserError that names the line it can't read."""
    found = []
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip():
            continue
        try:
            found.append(target(line.strip(), shelf))
        except UserError as error:
            raise UserError(str(error), where=f"colours, line {number}") from None
    if len(found) > MOST_COLOURS:
        raise UserError(f"More than {MOST_COLOURS} colours are too many for a page.")
    return tuple(found)
