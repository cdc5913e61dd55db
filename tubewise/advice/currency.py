"""Prices in several currencies: nobody knows the rates, so only those of one are compared."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from math import inf

from tubewise.tubes.tube import Tube


def usual_currency(tubes: Iterable[Tube]) -> str:
    """The currency of most of the prices, the first by name where two are as many; "" for none."""
    met = Counter(tube.currency for tube in tubes if tube.price is not None)
    return min(met, key=lambda currency: (-met[currency], currency), default="")


def compared(price: float | None, currency: str, usual: str) -> float:
    """A price to order by: infinite where it isn't known or stands in another currency."""
    return price if price is not None and currency == usual else inf
