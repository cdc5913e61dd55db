"""Tubes of an invented maker that many tests use."""

from __future__ import annotations

from tubewise.tubes.tube import Tube


def tube(name: str, label: str, **more: object) -> Tube:
    """An acrylic artist's tube of an invented maker."""
    known = {
        "maker": "Oakfen",
        "line": "Fenland",
        "grade": "artist",
        "medium": "acrylic",
        "size_ml": 60.0,
        "price": 8.0,
        "currency": "EUR",
        "stock": 3,
    }
    return Tube(name=name, label=label, **{**known, **more})  # type: ignore[arg-type]
