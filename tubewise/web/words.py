"""Sizes, prices and counts as a person writes them, in millilitres or fluid ounces."""

from __future__ import annotations

# US customary fluid ounce, exactly (NIST Handbook 44, Appendix C).
ML_PER_FL_OZ = 29.5735295625


def size_text(ml: float | None, units: str) -> str:
    """`60 ml` or `2.0 fl oz`; empty where nobody knows."""
    if ml is None:
        return ""
    return f"{ml / ML_PER_FL_OZ:.1f} fl oz" if units == "us" else f"{ml:g} ml"


def price_text(price: float | None, currency: str) -> str:
    """`8.15 EUR`; empty without a price."""
    return "" if price is None else f"{price:.2f} {currency}".strip()


def unit_price(price: float | None, ml: float | None, units: str, currency: str) -> str:
    """What a millilitre or a fluid ounce costs; empty where nobody knows."""
    if price is None or not ml:
        return ""
    if units == "us":
        return f"{price / ml * ML_PER_FL_OZ:.2f} {currency} a fl oz"
    return f"{price / ml:.3f} {currency} a ml"


def counted(n: int, one: str, many: str = "") -> str:
    """`1 tube`, `12 tubes`."""
    return f"{n:,} {one if n == 1 else many or one + 's'}"


PERMANENCE = {
    "I": "excellent (I)",
    "II": "very good (II)",
    "III": "not lasting (III)",
    "IV": "fades (IV)",
    "V": "fades fast (V)",
    "fugitive": "fugitive",
    "not rated": "not rated",
}


def permanence_text(category: str) -> str:
    """A lightfastness category (ASTM D4303) in words."""
    return PERMANENCE.get(category, category)
