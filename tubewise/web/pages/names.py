"""Names that mislead: one name and its many pigments, one pigment and its many names."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import Response

from tubewise.advice.alike.names import MisleadingNames, Named, plain_name
from tubewise.advice.alike.names import names as misleading
from tubewise.web.holdings import Holdings
from tubewise.web.render import counter_of, page

router = APIRouter()
VIEWS = {
    "name": "One name, many paints",
    "pigment": "One paint, many names",
    "hue": "Promised, but not inside",
}
PER_PAGE = 20


def names_of(holdings: Holdings) -> MisleadingNames:
    """The names that mislead in the catalogue, found once."""
    return holdings.remember(("names",), lambda: misleading(holdings.tubes))


@router.get("/names")
def names(
    request: Request,
    view: Annotated[str, Query(max_length=20)] = "name",
    q: Annotated[str, Query(max_length=200)] = "",
    medium: Annotated[str, Query(max_length=60)] = "",
    at: Annotated[int, Query(ge=1, le=100_000)] = 1,
) -> Response:
    """One of three views, narrowed by a word and a medium."""
    holdings = counter_of(request).holdings()
    view = view if view in VIEWS else "name"
    found = names_of(holdings)
    word = plain_name(q)
    groups: list[object]
    if view == "name":
        groups = [
            g
            for g in found.same_name
            if word in plain_name(g.name) and (not medium or g.medium == medium)
        ]
    elif view == "pigment":
        groups = [
            g
            for g in found.same_pigments
            if (
                word in plain_name(" ".join(g.names))
                or q.strip().casefold() in " ".join(g.pigments).casefold()
            )
            and (not medium or g.medium == medium)
        ]
    else:
        groups = [
            g
            for g in found.hue_names
            if word in plain_name(g.tube.title)
            and (not medium or holdings.by_id[g.tube.id].medium == medium)
        ]
    first = (at - 1) * PER_PAGE
    return page(
        request,
        "names.html",
        here="names",
        revision=holdings.revision,
        holdings=holdings,
        view=view,
        views=VIEWS,
        q=q,
        medium=medium,
        groups=groups[first : first + PER_PAGE],
        total=len(groups),
        at=at,
        pages=-(-len(groups) // PER_PAGE),
        pairs=different,
        kept={k: v for k, v in (("view", view), ("q", q), ("medium", medium)) if v},
    )


def different(tubes: tuple[Named, ...]) -> list[tuple[str, str]]:
    """The first few tubes that differ in pigments or else in name, for laying side by side."""
    by_pigments = {tube.pigments: tube.id for tube in reversed(tubes)}
    by_title = {tube.title: tube.id for tube in reversed(tubes)}
    ids = list(by_pigments.values() if len(by_pigments) > 1 else by_title.values())
    return [("t", at) for at in ids[::-1][:4]]
