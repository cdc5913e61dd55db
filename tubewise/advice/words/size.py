"""How much is in a tube, as every door says it."""

from __future__ import annotations

from tubewise.tubes.shop_words import ML_PER_FL_OZ


def size_text(ml: float | None, units: str = "metric") -> str:
    """`60 ml`, or with `units` "us" `2.0 fl oz`; "" where nobody knows."""
    if ml is None:
        return ""
    return f"{ml / ML_PER_FL_OZ:.1f} fl oz" if units == "us" else f"{ml:g} ml"
