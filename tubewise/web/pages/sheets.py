"""Printed sheets of what a page shows: PDF for paper, or its pages as SVG or PNG."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Callable, Sequence
from typing import Annotated

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import Response

from tubewise.advice.cards.comparison import comparison
from tubewise.advice.cards.mixing_chart import MOST as MOST_IN_A_CHART
from tubewise.advice.cards.mixing_chart import mixing_chart
from tubewise.advice.cards.recipe_card import recipe_card
from tubewise.advice.cards.shelf_labels import shelf_labels
from tubewise.advice.cards.tint_ladder import tint_ladder
from tubewise.advice.classroom.check import ClassCheck
from tubewise.advice.classroom.handout import handout
from tubewise.errors import UserError
from tubewise.pigments.purpose import purpose_typed
from tubewise.sheets import chart, class_report, compare, labels, ladder, recipe, supply
from tubewise.sheets.press import FORMATS, PAPERS
from tubewise.web.class_choice import checked, choice_of, workshop_of
from tubewise.web.holdings import Holdings
from tubewise.web.missing import MissingError
from tubewise.web.questions import (
    ClassAddress,
    ClassAsked,
    Partners,
    Print,
    PrintAsked,
    PurposeText,
    RecipeAsked,
    Terms,
    TubeSearch,
    Words,
)
from tubewise.web.recipe_answers import recipes_for
from tubewise.web.render import counter_of
from tubewise.web.sources import source_of

router = APIRouter()
Press = Callable[[str, str], tuple[bytes, ...]]

MOST_LABELS = 240
_KINDS = {"pdf": "application/pdf", "svg": "image/svg+xml", "png": "image/png"}


def _sheet(
    request: Request, holdings: Holdings, name: str, wanted: Print, press: Press
) -> Response:
    kind = wanted.kind
    if kind not in FORMATS:
        raise MissingError(f"Sheets are given as {', '.join(FORMATS)}.")
    # Where sizes are in fluid ounces, paper is Letter.
    paper = wanted.paper or ("letter" if request.scope.get("tubewise.units") == "us" else "a4")
    if paper not in PAPERS:
        raise UserError(f"Paper is {' or '.join(PAPERS)}.", where=f"“{paper}”")
    key = ("sheet", request.url.path, request.url.query, paper)
    made = holdings.set(key, lambda: press(paper, kind))
    if wanted.page > len(made):
        raise MissingError(f"This sheet has {len(made)} pages.")
    if not wanted.page and len(made) > 1:
        return _file(_packed(made, name, kind), f"{name}-{kind}.zip", "application/zip")
    return _file(made[max(wanted.page, 1) - 1], f"{name}.{kind}", _KINDS[kind])


def _file(contents: bytes, name: str, media_type: str) -> Response:
    shown = "inline" if media_type == _KINDS["pdf"] else "attachment"
    return Response(
        contents,
        media_type=media_type,
        headers={"content-disposition": f'{shown}; filename="{name}"'},
    )


def _packed(made: Sequence[bytes], name: str, kind: str) -> bytes:
    """All pages in one file, numbered; the same pages give the same file."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as pages:
        for number, page in enumerate(made, 1):
            pages.writestr(zipfile.ZipInfo(f"{name}-{number:02}.{kind}"), page)
    return packed.getvalue()


@router.get("/sheets/comparison.{kind}")
def comparison_sheet(
    request: Request, wanted: PrintAsked, t: Terms, with_: Partners, for_: PurposeText = ""
) -> Response:
    """The card of two to four paints side by side."""
    holdings = counter_of(request).holdings()
    card = comparison(t, holdings.shelf, tuple(with_), purpose=purpose_typed(for_))
    return _sheet(request, holdings, "comparison", wanted, lambda p, k: compare.pages(card, p, k))


@router.get("/sheets/recipe.{kind}")
def recipe_sheet(
    request: Request,
    wanted: PrintAsked,
    question: RecipeAsked,
    which: Annotated[int, Query(ge=1, le=50)] = 1,
) -> Response:
    """The card of one recipe."""
    holdings = counter_of(request).holdings()
    card = recipe_card(recipes_for(holdings, question), holdings.shelf, which)
    return _sheet(request, holdings, "recipe", wanted, lambda p, k: recipe.pages(card, p, k))


@router.get("/sheets/supply-list.{kind}")
def supply_list(
    request: Request, wanted: PrintAsked, list: Words = "", for_: PurposeText = ""
) -> Response:
    """The hand-out of a supply list."""
    holdings = counter_of(request).holdings()
    workshop = workshop_of(holdings, choice_of(holdings, ClassAddress(list=list, for_=for_)))
    if workshop is None:
        raise MissingError("There is no supply list yet.")
    answer = holdings.set(
        ("handout", workshop.supply.name, workshop.purpose), lambda: handout(workshop)
    )
    return _sheet(request, holdings, "supply-list", wanted, lambda p, k: supply.pages(answer, p, k))


@router.get("/sheets/class-report.{kind}")
def report(request: Request, wanted: PrintAsked, address: ClassAsked) -> Response:
    """The class report: the teacher's grid, then a page for each seat."""
    holdings = counter_of(request).holdings()
    choice = choice_of(holdings, address)
    if not choice.is_whole:
        raise MissingError("There is no class to report on yet.")
    answer = checked(holdings, choice)
    if not isinstance(answer, ClassCheck):
        waiting = Response("The boxes are being checked; the sheet comes by itself.", 200)
        waiting.headers["refresh"] = "1"
        waiting.headers["cache-control"] = "no-store"
        return waiting
    return _sheet(
        request, holdings, "class-report", wanted, lambda p, k: class_report.pages(answer, p, k)
    )


@router.get("/sheets/tint-ladder.{kind}")
def ladder_sheet(request: Request, wanted: PrintAsked, t: Terms) -> Response:
    """Tint ladders at true size, with cells to paint."""
    holdings = counter_of(request).holdings()
    answer = tint_ladder(t, holdings.shelf)
    return _sheet(request, holdings, "tint-ladder", wanted, lambda p, k: ladder.pages(answer, p, k))


@router.get("/sheets/mixing-chart.{kind}")
def chart_sheet(request: Request, wanted: PrintAsked, t: Terms, box: Words = "") -> Response:
    """A mixing chart of the paints named, or of a box, at true size."""
    holdings = counter_of(request).holdings()
    terms = t
    if not terms:
        tubes = source_of(holdings, box).tubes
        terms = [tube.id for tube in tubes if holdings.shelf.tube(tube) is not None][
            :MOST_IN_A_CHART
        ]
    answer = mixing_chart(terms, holdings.shelf)
    return _sheet(request, holdings, "mixing-chart", wanted, lambda p, k: chart.pages(answer, p, k))


@router.get("/sheets/shelf-labels.{kind}")
def labels_sheet(
    request: Request, wanted: PrintAsked, t: Terms, search: Annotated[TubeSearch, Depends()]
) -> Response:
    """Shelf labels of the tubes named, or of those a search finds."""
    holdings = counter_of(request).holdings()
    chosen = [holdings.by_id[tube_id] for tube_id in t if tube_id in holdings.by_id]
    found = chosen or holdings.found(search.up_to(None))[:MOST_LABELS]
    answer = shelf_labels(found, holdings.shelf)
    return _sheet(
        request, holdings, "shelf-labels", wanted, lambda p, k: labels.pages(answer, p, k)
    )
