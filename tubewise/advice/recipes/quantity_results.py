"""A recipe in millilitres and tubes, as plain values."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise.advice.words.lists import counted
from tubewise.advice.words.size import size_text


@dataclass(frozen=True, slots=True, kw_only=True)
class PartQuantity:
    """So much of one part: `ml`, and the `tubes` of `size_ml` that hold it; none for water.

    `price` of those tubes, None where it is not known.
    """

    tube: str
    title: str
    ml: float
    tubes: int
    size_ml: float | None
    price: float | None

    @property
    def words(self) -> str:
        """`20 ml Fen Titanium White (1 tube of 60 ml)`."""
        size = f" of {size_text(self.size_ml)}" if self.size_ml else ""
        tubes = f" ({counted(self.tubes, 'tube')}{size})" if self.tubes else ""
        return f"{self.ml:g} ml {self.title}{tubes}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Quantity:
    """A recipe in millilitres: `ml` in all, for `seats` that take `ml / seats` each.

    `price` of all tubes together and `used` of the paint that goes into it, in `currency`; None
    where a price is not known or prices stand in several currencies.
    """

    ml: float
    seats: int
    parts: tuple[PartQuantity, ...]
    price: float | None
    used: float | None
    currency: str
    words: str
