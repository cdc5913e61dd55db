"""What a tube or a millilitre costs, as every door says it."""

from __future__ import annotations

from tubewise.tubes.shop_words import ML_PER_FL_OZ
from tubewise.tubes.tube import Tube


def price_text(price: float | None, currency: str) -> str:
    """`8.15 EUR`; "" without a price."""
    return "" if price is None else f"{price:.2f} {currency}".strip()


def tube_price_per_ml(tube: Tube) -> float | None:
    """Price of a millilitre of a tube, None where price or size is not known."""
    return tube.price / tube.size_ml if tube.price is not None and tube.size_ml else None


def unit_price_text(per_ml: float | None, currency: str, units: str = "metric") -> str:
    """`13.58 EUR per 100 ml`, or with `units` "us" `4.02 EUR a fl oz`; "" where nobody knows."""
    if per_ml is None:
        return ""
    if units == "us":
        return f"{price_text(per_ml * ML_PER_FL_OZ, currency)} a fl oz"
    return f"{price_text(per_ml * 100.0, currency)} per 100 ml"
