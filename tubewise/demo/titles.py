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
# What each is about, for who has not seen it.
ABOUT: Mapping[str, str] = {
    FIRST: "two days of heather, harebells and rowan berries, a shop of 390 tubes, twelve boxes",
    "watercolour": "fourteen slots, pans and tubes, and paints that must granulate or lift",
    "oil": "pictures for sale: lead, zinc, what fades, and fat over lean",
}
