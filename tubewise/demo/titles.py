"""The demo workshops by name and title."""

from __future__ import annotations

from collections.abc import Mapping

FIRST = "acrylic"
# The first lies in the demo's own folder, every other in one of its name.
TITLES: Mapping[str, str] = {
    FIRST: "Heather, harebell, rowan",
    "watercolour": "Rain over the saltmarsh",
    "oil": "Boats for the autumn show",
}
