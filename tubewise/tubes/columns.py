"""The columns of a catalogue, in the order in which they are written."""

from __future__ import annotations

COLUMNS = (
    "maker",
    "line",
    "grade",
    "medium",
    "name",
    "label",
    "size_ml",
    "price",
    "currency",
    "stock",
    "swatch_lab",
    "swatch_hex",
    "swatch_geometry",
)
