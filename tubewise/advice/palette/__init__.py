"""Which tubes: for a lesson, a picture, the widest range; the next tube; what is lost without."""

from __future__ import annotations

from importlib import import_module
from typing import Any

_HOMES = {
    "lesson": "lesson",
    "lesson_offer": "lesson",
    "picture": "picture",
    "range_of": "reach",
    "widest_range": "reach",
    "next_tube": "next_tube",
    "without": "without",
    "versus": "versus",
    "offer_of": "offer",
    "offer_of_register": "offer",
    "film_for": "film",
}
__all__ = sorted(_HOMES)


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
