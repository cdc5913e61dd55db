"""Travelling without a tube: what is lost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.palette.chosen import Chosen, chosen
from tubewise.advice.palette.film import film_for
from tubewise.advice.palette.offer import Offer
from tubewise.advice.palette.reach import body_of
from tubewise.advice.palette.shape import chroma_table, where_it_matters
from tubewise.advice.palette.targets import WITHIN, Nearest, nearest
from tubewise.advice.recipes.target import Target
from tubewise.advice.words.lists import counted
from tubewise.errors import UserError
from tubewise.labels.phrasing import listing
from tubewise.paints.shelf import Shelf
from tubewise.search.body import HALF


@dataclass(frozen=True, slots=True, kw_only=True)
class Loss:
    """One target before and after: `lost` where it was reached and is no longer."""

    before: Nearest
    after: Nearest
    lost: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Without:
    """What a box loses without one of its tubes.

    `loses`: part of its volume in CIELAB, known to the part `error` of it, and `hues` in which it
    shows; `targets` the worst first.
    """

    tube: Chosen
    how: str
    loses: float
    error: float
    hues: str
    within: float
    targets: tuple[Loss, ...]
    words: str


def without(
    offer: Offer,
    tube: str,
    shelf: Shelf,
    targets: Sequence[Target] = (),
    *,
    how: str = "",
    within: float = WITHIN,
) -> Without:
    """What is lost of a box's range, and of the `targets` its owner paints, without a tube.

    `tube`: its id, name or pigment. Raises UserError where the box has none such, or several, or
    nothing else.
    """
    rows = offer.rows((tube,))
    if len(rows) != 1:
        names = listing([offer.kinds[i].name for i in rows])
        raise UserError(f"means {names}; say which", where=f"“{tube}”")
    gone = offer.kinds[rows[0]]
    rest = [kind for kind in offer.kinds if kind is not gone]
    if not rest:
        raise UserError("it is the only tube here, so nothing is left without it")
    film = film_for(offer.medium, shelf, how)
    whole, less = body_of(offer.kinds, film, HALF), body_of(rest, film, HALF)
    loses = max(1.0 - less.volume / whole.volume, 0.0) if whole.volume > 0.0 else 0.0
    hues = where_it_matters(chroma_table(whole), chroma_table(less))
    pairs = zip(
        nearest(offer.kinds, film, targets, within=within),
        nearest(rest, film, targets, within=within),
        strict=True,
    )
    losses = [Loss(before=a, after=b, lost=a.reached and not b.reached) for a, b in pairs]
    losses.sort(key=lambda loss: loss.before.delta_e00 - loss.after.delta_e00)
    return Without(
        tube=chosen(gone, shelf),
        how=film.how,
        loses=round(loses, 4),
        error=round(whole.error, 4),
        hues=hues,
        within=within,
        targets=tuple(losses),
        words=_words(gone.name, loses, hues, losses),
    )


def _words(name: str, loses: float, hues: str, losses: Sequence[Loss]) -> str:
    where = f", mostly {hues}" if hues else ""
    sentence = f"without {name} this box reaches {loses:.0%} less{where}"
    if loses < 0.005:
        sentence = f"without {name} this box reaches as much as before"
    lost = [loss.before.name for loss in losses if loss.lost]
    if losses:
        which = f": {listing(lost)}" if lost else ""
        sentence += f"; {counted(len(lost), 'colour')} of {len(losses)} out of reach{which}"
    return sentence
