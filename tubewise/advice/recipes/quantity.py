"""How much of each tube a mixture of so many millilitres takes, how many tubes, at what cost."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from tubewise.advice.amounts import tubes_needed
from tubewise.advice.recipes.quantity_results import PartQuantity, Quantity
from tubewise.advice.recipes.results import Recipe, Recipes
from tubewise.advice.words.price import price_text
from tubewise.errors import UserError
from tubewise.labels.phrasing import listing
from tubewise.tubes.fields import read_size
from tubewise.tubes.tube import Tube

# What a seat mixes where nobody says how much: a walnut of paint. common practice, no source.
A_WALNUT = 10.0
MOST_ML = 100_000.0
MOST_SEATS = 1_000


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """How much is to be mixed: `ml` for each of the `seats`; more than 0 both."""

    ml: float
    seats: int = 1


def wanted(make: str, seats: int = 0) -> Wanted | None:
    """What is to be mixed, from `30ml` or `1 fl oz` and a number of seats; None for neither.

    Raises UserError for an amount that is none, or beyond 100 litres or 1,000 seats.
    """
    if not make.strip() and not seats:
        return None
    if not 0 <= seats <= MOST_SEATS:
        raise UserError(f"seats must be 1 to {MOST_SEATS}, not {seats}")
    try:
        ml = read_size(make.strip()) if make.strip() else A_WALNUT
    except ValueError:
        ml = None
    if ml is None or not 0.0 < ml <= MOST_ML:
        raise UserError(
            "this is no amount to mix; write one such as 30 ml or 1 fl oz", where=f"“{make}”"
        )
    return Wanted(ml=ml, seats=max(seats, 1))


def quantity(recipe: Recipe, want: Wanted, tubes: Mapping[str, Tube]) -> Quantity:
    """A recipe in millilitres; `tubes` by their ids, from which sizes and prices are taken."""
    whole = want.ml * want.seats
    total = sum(part.parts for part in recipe.parts)
    parts = []
    for part in sorted(recipe.parts, key=lambda part: -part.parts):
        tube, ml = tubes.get(part.tube), whole * part.parts / total
        count = tubes_needed(tube.size_ml, ml) if tube else 0
        price = round(count * tube.price, 2) if tube and tube.price is not None else None
        parts.append(
            PartQuantity(
                tube=part.tube,
                title=part.title,
                ml=_handy(ml),
                tubes=count,
                size_ml=tube.size_ml if tube else None,
                price=price,
            )
        )
    # A recipe has a price for each millilitre only where all are known in one currency.
    known = recipe.price_per_ml is not None
    prices = [part.price for part in parts if part.tubes]
    together = sum(price for price in prices if price is not None)
    cost = round(together, 2) if known and None not in prices else None
    used = round(recipe.price_per_ml * whole, 2) if recipe.price_per_ml is not None else None
    return Quantity(
        ml=round(whole, 2),
        seats=want.seats,
        parts=tuple(parts),
        price=cost,
        used=used,
        currency=recipe.currency if known else "",
        words=_words(want, whole, parts, cost, used, recipe.currency),
    )


def in_quantities(answer: Recipes, want: Wanted | None, tubes: Mapping[str, Tube]) -> Recipes:
    """The same answer with every recipe in millilitres and tubes, where that is wanted."""
    if want is None:
        return answer
    return replace(answer, quantities=tuple(quantity(r, want, tubes) for r in answer.recipes))


def _handy(ml: float) -> float:
    """Millilitres as one can measure them: tenths below ten, else whole ones."""
    return round(ml, 1) if ml < 10.0 else float(round(ml))


def _words(
    want: Wanted,
    whole: float,
    parts: list[PartQuantity],
    price: float | None,
    used: float | None,
    currency: str,
) -> str:
    amount = f"{_handy(whole):g} ml"
    if want.seats > 1:
        amount += f" ({want.seats} seats, {_handy(want.ml):g} ml each)"
    words = f"{amount}: {listing([part.words for part in parts])}"
    if used is not None:
        words += f"; paint for {price_text(used, currency)}"
    if price is not None:
        words += f", the tubes {price_text(price, currency)}"
    return words
