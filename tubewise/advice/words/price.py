"""What a tube or a millilitre costs, as every door says it."""

from __future__ import annotations

from tubewise.tubes.shop_words import ML_PER_FL_OZ


def price_text(price: float | None, currency: str) -> str:
    """`8.15 EUR`; "" without a price."""
    return "" if price is None else f"{price:.2f} {currency}".strip()


def unit_price_text(per_ml: float | None, currency: str, units: str = "metric") -> str:
    """`0.136 EUR a ml`, or with `units` "us" `4.02 EUR a fl oz`; "" where nobody knows."""
    if per_ml is None:
        return ""
    if units == "us":
        return f"{price_text(per_ml * ML_PER_FL_OZ, currency)} a fl oz"
    return f"{per_ml:.3f} {currency}".strip() + " a ml"
