"""How much a palette reaches, what each tube of it is good for, and the widest there is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from tubewise.advice.palette.chosen import Chosen, chosen, total_price
from tubewise.advice.palette.film import Film, film_for
from tubewise.advice.palette.offer import Kind, Offer
from tubewise.advice.palette.shape import Shape, chroma_table, shape_of, where_it_matters
from tubewise.advice.words.lists import counted
from tubewise.advice.words.price import price_text
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.search.body import FINE, HALF, Body, Fineness, body
from tubewise.search.widest import all_together, widest

MOST_TUBES = 16


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """A tube of a palette and what it is good for.

    `loses`: the part of the volume (0 to 1) that would be gone without it, and the hues, in words.
    """

    tube: Chosen
    loses: float
    good_for: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Addition:
    """A tube that could be added and what that gains: part of the volume there is, and the hues."""

    tube: Chosen
    gains: float
    good_for: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Range:
    """What a palette reaches in CIELAB.

    `volume` in cubic units, known to the part `error` of it. `share` of what all tubes to choose
    from reach together, None where there was no choice. `proved`: every choice was tried, and none
    has a larger volume by more than the error; `ceiling`: no choice has more. `reach` is for
    drawing.
    """

    medium: str
    how: str
    tubes: tuple[Member, ...]
    volume: float
    error: float
    share: float | None
    shape: Shape
    ceiling: float
    proved: bool
    price: float | None
    currency: str
    more: Addition | None
    words: str
    reach: Body = field(repr=False, metadata={"json": False})


def body_of(kinds: Sequence[Kind], film: Film, fine: Fineness = FINE) -> Body:
    """The body of all mixtures of some kinds of paint."""
    paints = [kind.paint for kind in kinds]
    return body(film.problem(paints), range(len(paints)), free=film.free(paints), fine=fine)


def members(kinds: Sequence[Kind], film: Film, whole: Body, shelf: Shelf) -> tuple[Member, ...]:
    """What each kind of a palette is good for, by what is lost without it."""
    table, out = chroma_table(whole), []
    for kind in kinds:
        rest = body_of([k for k in kinds if k is not kind], film, HALF)
        loses = max(1.0 - rest.volume / whole.volume, 0.0) if whole.volume > 0.0 else 0.0
        out.append(
            Member(
                tube=chosen(kind, shelf),
                loses=round(loses, 4),
                good_for=where_it_matters(table, chroma_table(rest)),
            )
        )
    return tuple(out)


def range_of(kinds: Sequence[Kind], shelf: Shelf, medium: str = "", how: str = "") -> Range:
    """What these kinds of paint reach, all of them. Raises UserError where there are none."""
    if not kinds:
        raise UserError("a palette needs at least one tube")
    if len(kinds) > MOST_TUBES:
        raise UserError(f"a palette of more than {MOST_TUBES} kinds of paint is not measured")
    film = film_for(medium, shelf, how)
    whole = body_of(kinds, film)
    return _range(kinds, film, shelf, medium, _Found(whole, None, whole.volume, True, None))


def widest_range(
    offer: Offer,
    count: int,
    shelf: Shelf,
    *,
    how: str = "",
    must: Sequence[str] = (),
    budget: float | None = None,
) -> Range:
    """The `count` kinds of an offer that reach most.

    `must`: tubes or pigments that shall be among them; `budget` for all together. Raises UserError
    where the wishes clash or a price is needed and not known.
    """
    if not 1 <= count <= MOST_TUBES:
        raise UserError(f"a palette has one to {MOST_TUBES} tubes, not {count}")
    film = film_for(offer.medium, shelf, how)
    paints = [kind.paint for kind in offer.kinds]
    prices = offer.prices()
    if budget is not None and not prices.any():
        raise UserError("no price is known, so a budget cannot be kept")
    ask, free = film.problem(paints), film.free(paints)
    everything = all_together(ask, range(len(paints)), free=free)
    try:
        answer = widest(
            ask,
            count,
            free=free,
            must=offer.rows(must),
            price=np.append(prices, 0.0) if free >= 0 else prices,
            budget=np.inf if budget is None else budget,
            together=everything,
        )
    except ValueError as error:
        raise UserError(str(error)) from None
    if not answer.rows:
        raise UserError(
            f"nothing can be bought for {price_text(budget, offer.currency)}; the cheapest tube "
            f"costs {price_text(float(prices.min()), offer.currency)}"
        )
    kinds = [offer.kinds[i] for i in answer.rows]
    more = _addition(offer, kinds, film, answer.body, shelf)
    found = _Found(answer.body, everything, answer.ceiling, answer.proved, more)
    return _range(kinds, film, shelf, offer.medium, found)


def _addition(
    offer: Offer, kinds: Sequence[Kind], film: Film, now: Body, shelf: Shelf
) -> Addition | None:
    """The kind of the offer that would add most."""
    others = [kind for kind in offer.kinds if kind not in kinds]
    if not others or len(kinds) >= MOST_TUBES or now.volume <= 0.0:
        return None
    paints = [kind.paint for kind in offer.kinds]
    rows = [offer.kinds.index(kind) for kind in kinds]
    free = film.free(paints)
    larger = widest(film.problem(paints), len(kinds) + 1, free=free, must=rows)
    row = next(i for i in larger.rows if i not in rows)
    return Addition(
        tube=chosen(offer.kinds[row], shelf),
        gains=round(max(larger.body.volume / now.volume - 1.0, 0.0), 4),
        good_for=where_it_matters(chroma_table(larger.body), chroma_table(now)),
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Found:
    """A body, what all tubes to choose from reach, and what is known of the choice."""

    whole: Body
    beside: Body | None
    ceiling: float
    proved: bool
    more: Addition | None


def _range(kinds: Sequence[Kind], film: Film, shelf: Shelf, medium: str, found: _Found) -> Range:
    whole, beside = found.whole, found.beside
    price = total_price(kinds)
    currency = next((k.tube.currency for k in kinds if k.tube and k.tube.price is not None), "")
    share = min(whole.volume / beside.volume, 1.0) if beside and beside.volume > 0.0 else None
    shape = shape_of(whole, beside)
    return Range(
        medium=medium,
        how=film.how,
        tubes=members(kinds, film, whole, shelf),
        volume=round(whole.volume, 1),
        error=round(whole.error, 4),
        share=None if share is None else round(share, 4),
        shape=shape,
        ceiling=round(found.ceiling, 1),
        proved=found.proved,
        price=price,
        currency=currency if price is not None else "",
        more=found.more,
        words=_words(len(kinds), film, whole, share, shape),
        reach=whole,
    )


def _words(count: int, film: Film, whole: Body, share: float | None, shape: Shape) -> str:
    part = "" if share is None else f", {share:.0%} of what all tubes here reach together"
    how = "alone" if film.how == "alone" else film.words
    lack = f"; poorest in {shape.missing[0]}" if shape.missing else ""
    return f"{counted(count, 'tube')} {how}: {whole.volume:,.0f} cubic units of CIELAB{part}{lack}"
