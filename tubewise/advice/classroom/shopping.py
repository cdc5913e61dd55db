"""What to buy for a slot, and one list for a whole class."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace

from tubewise.advice import amounts
from tubewise.advice.alike.identity import SAME, accepted, contents_of_tube
from tubewise.advice.classroom.standard import usable_medium
from tubewise.advice.currency import compared, usual_currency
from tubewise.advice.purpose import standing
from tubewise.advice.words.pigments import pigments_text
from tubewise.advice.words.price import price_text
from tubewise.advice.words.size import size_text
from tubewise.paints.shelf import Shelf
from tubewise.pigments.purpose import PRACTICE, Purpose
from tubewise.tubes.supply import Slot
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True, kw_only=True)
class Buy:
    """What to buy: `count` tubes of one kind, enough for the slot.

    `price` is of one tube, None where the catalogue gives none; `stock` likewise.
    """

    tube: str
    title: str
    pigments: tuple[str, ...]
    grade: str
    size_ml: float | None
    price: float | None
    currency: str
    shop: str
    count: int = 1
    stock: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoppingLine:
    """One line of the class's shopping list: how many, for which seats, at what cost.

    `short` is how many of them the shop does not have.
    """

    buy: Buy
    count: int
    seats: tuple[str, ...]
    cost: float | None
    short: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoppingList:
    """`lines` by shop and title; `totals` a sum for each currency of what has a price."""

    lines: tuple[ShoppingLine, ...]
    totals: tuple[tuple[str, float], ...]


def shop_of(tube: Tube) -> str:
    """The shop a catalogue row names, if its sheet has such a column."""
    return next((v for k, v in tube.extra.items() if k.casefold() == "shop"), "")


def enough(tube: Tube, slot: Slot) -> bool:
    """Whether the tube is as large as the list asks; one that does not say is taken to be."""
    return amounts.enough(tube.size_ml, slot.min_ml)


def fits(tube: Tube, slot: Slot) -> bool:
    """Whether a tube declares just what the slot asks for, in its medium."""
    has = contents_of_tube(tube)
    return usable_medium(tube, slot) and any(
        accepted(sorted(refs), has) == SAME for refs in slot.accept
    )


def tubes_needed(tube: Tube, slot: Slot) -> int:
    """How many of a tube make up the least that the slot asks for."""
    return max(1, amounts.tubes_needed(tube.size_ml, slot.min_ml))


def for_what_is_short(buy: Buy | None, slot: Slot, have_ml: float) -> Buy | None:
    """The same tube, as many as make up what a seat that has some is short of."""
    if buy is None:
        return None
    count = amounts.tubes_needed(buy.size_ml, slot.min_ml, have_ml)
    return replace(buy, count=max(1, count))


def buy_for(
    slot: Slot, catalogue: Iterable[Tube], shelf: Shelf, purpose: Purpose = PRACTICE
) -> Buy | None:
    """The cheapest way to buy what the slot asks for from what is in stock, or None.

    See `buys_for`.
    """
    return next(iter(buys_for(slot, catalogue, shelf, purpose)), None)


def buys_for(
    slot: Slot, catalogue: Iterable[Tube], shelf: Shelf, purpose: Purpose = PRACTICE
) -> tuple[Buy, ...]:
    """Every way to buy what the slot asks for from what is in stock, the cheapest first.

    Tubes whose label contradicts itself or their swatch are passed over while others are to be had,
    and a small tube is bought as often as it takes. What does not last for the purpose is not
    bought, and what is priced in another currency than most comes after.
    """
    found = [
        t
        for t in catalogue
        if t.stock != 0
        and fits(t, slot)
        and standing(t.refs, t.medium or slot.medium, purpose).accepted
    ]
    if not found:
        return ()
    usual = usual_currency(found)

    def order(tube: Tube) -> tuple[int, bool, float, str]:
        paint = shelf.tube(tube)
        doubtful = sum(w.kind in DOUBTS for w in tube.reading.warnings)
        doubtful += paint is not None and paint.contradicted
        count = tubes_needed(tube, slot)
        short = tube.stock is not None and tube.stock < count
        price = compared(tube.price, tube.currency, usual)
        return doubtful, short, count * price, tube.id

    return tuple(_buy(tube, slot) for tube in sorted(found, key=order))


def _buy(tube: Tube, slot: Slot) -> Buy:
    return Buy(
        tube=tube.id,
        title=tube.title,
        pigments=tube.pigments,
        grade=tube.grade,
        size_ml=tube.size_ml,
        price=tube.price,
        currency=tube.currency,
        shop=shop_of(tube),
        count=tubes_needed(tube, slot),
        stock=tube.stock,
    )


def buying_words(buy: Buy | None, asks: str) -> str:
    """What to buy, or what to ask any shop for: `asks` says the pigments."""
    if buy is None:
        return f"ask any shop for {asks}; the catalogue has none in stock"
    count = f"{buy.count} of " if buy.count > 1 else ""
    shop = f" at {buy.shop}" if buy.shop else ""
    facts = pigments_text(buy.pigments), size_text(buy.size_ml), price_text(buy.price, buy.currency)
    return f"buy {count}{buy.title} ({', '.join(filter(None, facts))}){shop}"


# Warnings that make a label a poor thing to buy by.
DOUBTS = frozenset({"code-number-disagree", "likely-misread", "unknown-code"})


def shopping_list(wanted: Iterable[tuple[str, Buy]]) -> ShoppingList:
    """Gather (seat, buy) pairs into lines by tube, with the cost of each and of all."""
    # Two slots may ask for one tube, each for as many as it takes.
    counts: dict[str, int] = defaultdict(int)
    seats: dict[str, list[str]] = defaultdict(list)
    buys: dict[str, Buy] = {}
    for seat, buy in wanted:
        counts[buy.tube] += buy.count
        if seat not in seats[buy.tube]:
            seats[buy.tube].append(seat)
        buys[buy.tube] = buy
    totals: dict[str, float] = defaultdict(float)
    lines = []
    for tube, buy in sorted(buys.items(), key=lambda item: (item[1].shop, item[1].title, item[0])):
        count = counts[tube]
        short = 0 if buy.stock is None else max(0, count - buy.stock)
        cost = None if buy.price is None else round(count * buy.price, 2)
        if cost is not None:
            totals[buy.currency] += cost
        lines.append(
            ShoppingLine(buy=buy, count=count, seats=tuple(seats[tube]), cost=cost, short=short)
        )
    return ShoppingList(
        lines=tuple(lines), totals=tuple((c, round(v, 2)) for c, v in sorted(totals.items()))
    )
