"""Mixing: which tubes of a box, in what parts, make a colour."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response

from tubewise.advice.medium import media_of
from tubewise.advice.recipes.results import Recipes
from tubewise.advice.recipes.wishes import ALL_LIGHTS
from tubewise.colour.lights import LIGHTS
from tubewise.errors import UserError
from tubewise.paints.strip import Strip
from tubewise.web.holdings import Holdings
from tubewise.web.questions import RecipeAsked, as_pasted
from tubewise.web.recipe_answers import recipes_for
from tubewise.web.render import counter_of, page, waiting_page
from tubewise.web.sources import source_of, sources_of

router = APIRouter()


@router.get("/mixing")
def mixing(request: Request, question: RecipeAsked) -> Response:
    """Recipes for a target from a box."""
    counter = counter_of(request)
    if question.target and counter.is_compiling:
        return waiting_page(request, here="mixing", title="Finding parts")
    holdings = counter.holdings()
    sources = sources_of(holdings)
    answer: Recipes | None = None
    fault = None
    source = source_of(holdings, question.box) if sources else None
    if question.target and sources:
        try:
            answer = recipes_for(holdings, question)
        except UserError as error:
            fault = error
    spectrum = as_pasted(question.target)
    return page(
        request,
        "mixing.html",
        here="mixing",
        revision=holdings.revision,
        holdings=holdings,
        question=question,
        lights=(*LIGHTS, ALL_LIGHTS),
        target="" if spectrum else question.target,
        spectrum=spectrum,
        sources=sources,
        box=source,
        media=media_of(source.tubes) if source else (),
        answer=answer,
        fault=fault,
        wanted=holdings.tube(question.target) if question.target else None,
        strip_of=lambda tube_id: _strip(holdings, tube_id),
        bench_parts=lambda r: [("p", f"{part.tube}={part.parts:g}") for part in r.parts],
        query=request.scope.get("tubewise.query", request.url.query),
    )


def _strip(holdings: Holdings, term: str) -> Strip | None:
    tube = holdings.tube(term)
    return holdings.seen(tube).strip if tube else holdings.strip_of(holdings.shelf.term(term))
