"""Printed sheets of what a page shows: PDF for paper, or one page of it as SVG or PNG."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import Response

from tubewise.advice.classroom.check import ClassCheck
from tubewise.advice.classroom.handout import handout
from tubewise.errors import UserError
from tubewise.sheets import chart, class_report, compare, labels, ladder, recipe, supply
from tubewise.sheets.press import FORMATS, PAPERS
from tubewise.web.finding import Asked, find
from tubewise.web.holdings import Holdings
from tubewise.web.missing import MissingError
from tubewise.web.pages.classroom import asked_of, checked, workshop_of
from tubewise.web.pages.mixing import Wanted, recipes_for, source_of
from tubewise.web.render import counter_of

router = APIRouter()
Text = Annotated[str, Query(max_length=300)]
Terms = Annotated[list[str], Query(default_factory=list, max_length=24)]
Partners = Annotated[list[str], Query(alias="with", default_factory=list, max_length=8)]
Page = Annotated[int, Query(ge=1, le=500)]
Press = Callable[[str, str], tuple[bytes, ...]]

MOST_LABELS = 240
_KINDS = {"pdf": "application/pdf", "svg": "image/svg+xml", "png": "image/png"}


def _sheet(
    request: Request, held: Holdings, name: str, kind: str, paper: str, page: int, press: Press
) -> Response:
    if kind not in FORMATS:
        raise MissingError(f"Sheets are given as {', '.join(FORMATS)}.")
    # Where sizes are in fluid ounces, paper is Letter.
    paper = paper or ("letter" if request.scope.get("tubewise.units") == "us" else "a4")
    if paper not in PAPERS:
        raise UserError(f"Paper is {' or '.join(PAPERS)}.", where=f"“{paper}”")
    key = ("sheet", request.url.path, request.url.query, paper)
    made = held.remember_heavy(key, lambda: press(paper, kind))
    if page > len(made):
        raise MissingError(f"This sheet has {len(made)} pages.")
    shown = "inline" if kind == "pdf" else "attachment"
    return Response(
        made[page - 1],
        media_type=_KINDS[kind],
        headers={"content-disposition": f'{shown}; filename="{name}.{kind}"'},
    )


@router.get("/sheets/comparison.{kind}")
def comparison(
    request: Request, kind: str, t: Terms, with_: Partners, paper: Text = "", page: Page = 1
) -> Response:
    """The card of two to four paints side by side."""
    held = counter_of(request).holdings()
    answer = compare.card(t, held.shelf, tuple(with_))
    return _sheet(
        request, held, "comparison", kind, paper, page, lambda p, k: compare.pages(answer, p, k)
    )


@router.get("/sheets/recipe.{kind}")
def recipe_card(
    request: Request,
    kind: str,
    wanted: Wanted,
    which: Annotated[int, Query(ge=1, le=50)] = 1,
    paper: Text = "",
    page: Page = 1,
) -> Response:
    """The card of one recipe."""
    held = counter_of(request).holdings()
    answer = recipes_for(held, wanted)
    card = recipe.card(answer, held.shelf, which)
    return _sheet(request, held, "recipe", kind, paper, page, lambda p, k: recipe.pages(card, p, k))


@router.get("/sheets/supply-list.{kind}")
def supply_list(
    request: Request,
    kind: str,
    list: Text = "",
    paper: Text = "",
    page: Page = 1,
) -> Response:
    """The hand-out of a supply list."""
    held = counter_of(request).holdings()
    asked = asked_of(held, workshop_of(held, list, None))
    if asked is None:
        raise MissingError("There is no supply list yet.")
    answer = held.remember_heavy(("handout", asked.supply.name), lambda: handout(asked))
    return _sheet(
        request, held, "supply-list", kind, paper, page, lambda p, k: supply.pages(answer, p, k)
    )


@router.get("/sheets/class-report.{kind}")
def report(
    request: Request,
    kind: str,
    list: Text = "",
    boxes: Annotated[str | None, Query(max_length=200)] = None,
    paper: Text = "",
    page: Page = 1,
) -> Response:
    """The class report: the teacher's grid, then a page for each seat."""
    held = counter_of(request).holdings()
    workshop = workshop_of(held, list, boxes)
    if not workshop.list or not workshop.sets:
        raise MissingError("There is no class to report on yet.")
    answer = checked(held, workshop)
    if not isinstance(answer, ClassCheck):
        waiting = Response("The boxes are being checked; the sheet comes by itself.", 200)
        waiting.headers["refresh"] = "1"
        waiting.headers["cache-control"] = "no-store"
        return waiting
    return _sheet(
        request,
        held,
        "class-report",
        kind,
        paper,
        page,
        lambda p, k: class_report.pages(answer, p, k),
    )


@router.get("/sheets/tint-ladder.{kind}")
def tint_ladder(
    request: Request, kind: str, t: Terms, paper: Text = "", page: Page = 1
) -> Response:
    """Tint ladders at true size, with cells to paint."""
    held = counter_of(request).holdings()
    answer = ladder.ladder(t, held.shelf)
    return _sheet(
        request, held, "tint-ladder", kind, paper, page, lambda p, k: ladder.pages(answer, p, k)
    )


@router.get("/sheets/mixing-chart.{kind}")
def mixing_chart(
    request: Request, kind: str, t: Terms, box: Text = "", paper: Text = "", page: Page = 1
) -> Response:
    """A mixing chart of the paints named, or of a box, at true size."""
    held = counter_of(request).holdings()
    terms = t
    if not terms:
        tubes = source_of(held, box).tubes
        terms = [tube.id for tube in tubes if held.shelf.tube(tube) is not None][: chart.MOST]
    answer = chart.chart(terms, held.shelf)
    return _sheet(
        request, held, "mixing-chart", kind, paper, page, lambda p, k: chart.pages(answer, p, k)
    )


@router.get("/sheets/shelf-labels.{kind}")
def shelf_labels(
    request: Request,
    kind: str,
    t: Terms,
    q: Text = "",
    code: Text = "",
    maker: Text = "",
    hue: Text = "",
    medium: Text = "",
    permanence: Text = "",
    in_stock: Text = "",
    paper: Text = "",
    page: Page = 1,
) -> Response:
    """Shelf labels of the tubes named, or of those a search finds."""
    held = counter_of(request).holdings()
    asked = Asked(q, code, maker, hue, medium, permanence, None, bool(in_stock))
    chosen = [held.by_id[i] for i in t if i in held.by_id]
    found = chosen or list(find(held, asked, 0, MOST_LABELS).tubes)
    answer = labels.labels(found, held.shelf)
    return _sheet(
        request, held, "shelf-labels", kind, paper, page, lambda p, k: labels.pages(answer, p, k)
    )
