"""How long a colour lasts, as every door says it."""

from __future__ import annotations

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
