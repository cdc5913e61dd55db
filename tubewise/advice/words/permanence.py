"""How long a colour lasts, as every door says it."""

from __future__ import annotations

from collections.abc import Mapping

# A Roman numeral alone tells few people which way is better (categories of ASTM D4303).
_CATEGORIES = {
    "I": "I, excellent",
    "II": "II, very good",
    "III": "III, fades in time",
    "IV": "IV, fades",
    "V": "V, fades fast",
}


def permanence_text(category: str) -> str:
    """A lightfastness category in words; "fugitive" and "not rated" say it themselves."""
    return _CATEGORIES.get(category, category)


def permanence_by_binder(categories: Mapping[str, str]) -> str:
    """`I, excellent (oil, acrylic); not rated (gouache)`: binders that agree said together."""
    binders: dict[str, list[str]] = {}
    for binder, category in categories.items():
        binders.setdefault(category, []).append(binder)
    return "; ".join(f"{permanence_text(c)} ({', '.join(b)})" for c, b in binders.items())
