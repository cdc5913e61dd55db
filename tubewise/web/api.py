"""The JSON side: the same answers as the command line's `--json`, for reading."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Depends, Query, Request
from fastapi.responses import HTMLResponse, Response

from tubewise.advice.alike.standin import standin
from tubewise.advice.alike.standin_results import StandIns, StandInWishes
from tubewise.advice.classroom.check import ClassCheck
from tubewise.advice.counter.about import about as about_tube
from tubewise.advice.counter.finding import FoundTubes
from tubewise.advice.counter.label import read_label
from tubewise.advice.plain import plain, to_json
from tubewise.paints.mixing import mix
from tubewise.pigments.purpose import purpose_typed
from tubewise.search.compiled import ready
from tubewise.web.bench_answers import bench_of, parts_of
from tubewise.web.class_choice import checked, choice_of
from tubewise.web.door import REMEMBER
from tubewise.web.holdings import Holdings
from tubewise.web.missing import MissingError
from tubewise.web.pages.names import names_of
from tubewise.web.pages.side import compared
from tubewise.web.questions import ClassAsked, Partners, PurposeText, RecipeAsked, TubeSearch, Words
from tubewise.web.recipe_answers import recipes_for
from tubewise.web.render import counter_of, page
from tubewise.web.sources import source_of, sources_of
from tubewise.web.works import Progress

router = APIRouter(
    prefix="/api",
    tags=["reading"],
    responses={
        404: {"description": "Nothing of that name"},
        422: {"description": "What was asked cannot be understood; the words say why"},
        503: {"description": "Still at work, or too much is: ask again after `retry-after`"},
    },
)
Term = Annotated[str, Query(min_length=1, max_length=300)]


def _json(value: Any, revision: int | None = None, status: int = 200) -> Response:
    headers = {} if revision is None else {REMEMBER.decode("ascii"): str(revision)}
    return Response(to_json(value), status, headers, "application/json")


@router.get("", include_in_schema=False)
def about(request: Request) -> HTMLResponse:
    """What the JSON side can be asked, read from its own OpenAPI description."""
    paths = request.app.openapi()["paths"]
    questions = [
        (path, spec["get"].get("summary", ""), spec["get"].get("parameters", []))
        for path, spec in paths.items()
    ]
    return page(request, "api.html", here="", questions=questions)


@router.get("/label")
def label(text: Annotated[str, Query(max_length=4000)] = "", name: Words = "") -> Response:
    """Read a label."""
    return _json(read_label(text, name))


@router.get("/tubes")
def tubes(
    request: Request,
    search: Annotated[TubeSearch, Depends()],
    at_most: Annotated[float | None, Query(ge=0, allow_inf_nan=False)] = None,
    limit: Annotated[int, Query(ge=1, le=500)] = 50,
    offset: Annotated[int, Query(ge=0, le=1_000_000)] = 0,
) -> Response:
    """Find tubes."""
    holdings = counter_of(request).holdings()
    found = FoundTubes.of(holdings.found(search.up_to(at_most)), offset, limit)
    return _json(found.as_data(), holdings.revision)


@router.get("/tubes/{tube_id}")
def one_tube(request: Request, tube_id: str) -> Response:
    """One tube: its row, its reading, its colour and strip, and how it lasts and handles."""
    holdings = counter_of(request).holdings()
    tube = holdings.tube(tube_id)
    if tube is None:
        raise MissingError("There is no such tube here.")
    seen = holdings.seen(tube)
    answer = {
        **plain(tube),
        "pigments": tube.pigments,
        "reading": tube.reading,
        "colour": seen.colour,
        "strip": seen.strip,
        "basis": seen.basis,
        "about": about_tube(tube),
    }
    return _json(answer, holdings.revision)


@router.get("/mix")
def mixture(
    request: Request,
    part: Annotated[list[str], Query(min_length=1, max_length=8)],
    film: Annotated[str, Query(pattern="^(|opaque|thin|wash)$")] = "",
    ground: Annotated[str, Query(max_length=20)] = "white",
) -> Response:
    """Predict a mixture of `part`s, each TERM=PARTS."""
    holdings = counter_of(request).holdings()
    parts = parts_of(part)
    paints = [holdings.shelf.term(term) for term, _ in parts]
    answer = mix(paints, [n for _, n in parts], film, ground)
    return _json(answer, holdings.revision)


@router.get("/bench")
def bench(
    request: Request,
    part: Annotated[list[str], Query(min_length=1, max_length=8)],
    target: Annotated[str, Query(max_length=4000)] = "",
) -> Response:
    """A mixture by hand and how far it is from a target; parts may be 0."""
    holdings = counter_of(request).holdings()
    found = bench_of(holdings, target, parts_of(part))
    answer = {
        "colour": found.mixture.colour if found.mixture else None,
        "target": found.target.colour if found.target else None,
        "delta_e00": found.delta_e00,
        "words": found.words,
    }
    return _json(answer)


@router.get("/compare")
def comparison(
    request: Request,
    a: Term,
    b: Term,
    with_: Partners,
    for_: PurposeText = "",
) -> Response:
    """Compare two tubes or pigments; what does not last for the purpose is warned of."""
    holdings = counter_of(request).holdings()
    partners = tuple(with_)
    return _json(compared(holdings, a, b, partners, purpose_typed(for_)), holdings.revision)


@router.get("/standin")
def standins(
    request: Request,
    tube: Term,
    box: Words = "",
    medium: Words = "",
    most: Annotated[int, Query(ge=1, le=20)] = 8,
    for_: PurposeText = "",
) -> Response:
    """What can take a tube's place, from a box or from stock; a pigment needs the medium told."""
    holdings = counter_of(request).holdings()
    source = source_of(holdings, box)
    wishes = StandInWishes(purpose=purpose_typed(for_))
    answer = holdings.worked_out(_stand_in, tube, source.key, medium, most, wishes)
    return _json(answer, holdings.revision)


def _stand_in(
    holdings: Holdings,
    _: Progress,
    tube: str,
    box: str,
    medium: str,
    most: int,
    wishes: StandInWishes,
) -> StandIns:
    ready()
    wanted = holdings.tube(tube) or tube
    tubes = source_of(holdings, box).tubes
    return standin(wanted, tubes, holdings.shelf, most=most, medium=medium, wishes=wishes)


@router.get("/boxes")
def boxes(request: Request) -> Response:
    """The boxes and stocks that can be mixed from, by the keys other questions take."""
    holdings = counter_of(request).holdings()
    return _json(
        [
            {"box": s.key, "words": s.words, "tubes": [t.id for t in s.tubes]}
            for s in sources_of(holdings)
        ],
        holdings.revision,
    )


@router.get("/recipe")
def recipes(request: Request, question: RecipeAsked) -> Response:
    """Parts for a wanted colour."""
    holdings = counter_of(request).holdings()
    return _json(recipes_for(holdings, question), holdings.revision)


@router.get("/check", responses={202: {"description": "Still at work: ask again"}})
def class_check(request: Request, address: ClassAsked) -> Response:
    """The class check of a supply list and a set of boxes."""
    holdings = counter_of(request).holdings()
    choice = choice_of(holdings, address)
    if not choice.is_whole:
        raise MissingError("There is no supply list, or there are no boxes, to check yet.")
    answer = checked(holdings, choice)
    if isinstance(answer, ClassCheck):
        return _json(answer, holdings.revision)
    return _json({"done": answer.done, "all": answer.all}, status=202)


@router.get("/names")
def misleading_names(request: Request) -> Response:
    """Names that mislead in the catalogue."""
    holdings = counter_of(request).holdings()
    return _json(names_of(holdings), holdings.revision)
