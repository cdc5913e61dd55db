"""Find: one field for a name, a code, a maker, a hue or a label; answers are strips to tap."""

from __future__ import annotations

from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.responses import RedirectResponse, Response

from tubewise.advice.classroom.shopping import shop_of
from tubewise.pigments.ref import Ref
from tubewise.web.render import counter_of, page
from tubewise.web.typed import typed

router = APIRouter()
_SUGGESTED = 6
Text = Annotated[str, Query(max_length=400)]


@router.get("/find")
def find(request: Request, q: Text = "") -> Response:
    """Everything here that a text can mean: pigments first, then tubes."""
    holdings = counter_of(request).holdings()
    found = typed(holdings, q)
    if found.tube is not None:
        return RedirectResponse(f"/tubes/{found.tube.id}", 303)
    return page(
        request,
        "find.html",
        here="find",
        revision=holdings.revision,
        holdings=holdings,
        found=found,
        searched=found.text,
        ref_of=lambda p: Ref.of(p.code, p.default_form.name if p.default_form else ""),
        shop_of=shop_of,
    )


@router.get("/find/suggestions")
def suggestions(request: Request, q: Text = "") -> Response:
    """The first few, as a list to tap while one types."""
    holdings = counter_of(request).holdings()
    found = typed(holdings, q)
    return page(
        request,
        "suggestions.html",
        here="",
        revision=holdings.revision,
        holdings=holdings,
        found=found,
        ref_of=lambda p: Ref.of(p.code, p.default_form.name if p.default_form else ""),
        most=_SUGGESTED,
    )
