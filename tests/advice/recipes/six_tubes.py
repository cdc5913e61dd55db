"""Six acrylics to mix from."""

from __future__ import annotations

from tests.invented import tube
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf

TUBES = (
    tube("Titanium White", "PW6"),
    tube("Lemon Yellow", "PY3"),
    tube("Ultramarine", "PB29"),
    tube("Permanent Rose", "PV19 (rose)"),
    tube("Phthalo Green", "PG7"),
    tube("Cadmium Red", "PR108"),
)
SHELF = Shelf(TUBES)
PAINTS = [paint for paint in map(SHELF.tube, TUBES) if paint is not None]


def named(title: str) -> Paint:
    """The paint of a recipe's part."""
    return next(paint for paint in PAINTS if paint.name == title)
