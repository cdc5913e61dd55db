"""A colour in a picture: pointed at in the browser, where the picture stays."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import Response

from tubewise.measure.picture.uncorrected import USUAL_MISS, WITHIN_95
from tubewise.web.render import page

router = APIRouter()


@router.get("/picture")
def picture(request: Request) -> Response:
    """Where a picture is opened and pointed at."""
    return page(request, "picture.html", here="mixing", usual=USUAL_MISS, most=WITHIN_95)
