"""The book face that pages are set in, as an installed package brings it."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import font_source_serif_pro as face
from fastapi import APIRouter, HTTPException
from fastapi.responses import Response

router = APIRouter()

_CUTS = {
    "regular": face.SourceSerifPro,
    "italic": face.SourceSerifProIt,
    "semibold": face.SourceSerifProSemibold,
}
# The face never changes under its name, so that a browser asks for it once.
_KEPT = {"cache-control": "public, max-age=31536000, immutable"}


@cache
def _file(cut: str) -> bytes:
    return Path(_CUTS[cut]).read_bytes()


@router.get("/type/{cut}.otf")
def typeface(cut: str) -> Response:
    """One cut of the face as an OpenType font (ISO/IEC 14496-22)."""
    if cut not in _CUTS:
        raise HTTPException(404)
    return Response(_file(cut), media_type="font/otf", headers=_KEPT)
