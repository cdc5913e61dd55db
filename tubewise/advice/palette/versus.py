"""Two palettes held against one another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.palette.chosen import Chosen, chosen
from tubewise.advice.palette.film import film_for
from tubewise.advice.palette.offer import Offer
from tubewise.advice.palette.reach import body_of
from tubewise.advice.palette.shape import Shape, chroma_table, shape_of, where_it_matters
from tubewise.advice.palette.targets import WITHIN, Nearest, nearest
from tubewise.advice.recipes.target import Target
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """One of two palettes: its `volume`, the part of it that the other lacks, and where.

    `better` names the hues in which it is cleaner than the other.
    """

    tubes: tuple[Chosen, ...]
    volume: float
    error: float
    only_here: float
    better: str
    shape: Shape
    targets: tuple[Nearest, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Versus:
    """Two palettes, what both reach (`shared`, cubic units of CIELAB) and who does better where."""

    how: str
    a: Side
    b: Side
    shared: float
    within: float
    words: str


def versus(
    a: Offer,
    b: Offer,
    shelf: Shelf,
    targets: Sequence[Target] = (),
    *,
    how: str = "",
    within: float = WITHIN,
) -> Versus:
    """Two palettes of one medium side by side. Raises UserError where their media differ."""
    if a.medium and b.medium and a.medium != b.medium:
        raise UserError(f"one is {a.medium}, the other {b.medium}; compare palettes of one medium")
    film = film_for(a.medium or b.medium, shelf, how)
    bodies = [body_of(offer.kinds, film) for offer in (a, b)]
    shared = bodies[0].shared(bodies[1])
    tables = [chroma_table(body) for body in bodies]
    sides = []
    for own, offer in enumerate((a, b)):
        body = bodies[own]
        sides.append(
            Side(
                tubes=tuple(chosen(kind, shelf) for kind in offer.kinds),
                volume=round(body.volume, 1),
                error=round(body.error, 4),
                only_here=round(max(body.volume - shared, 0.0), 1),
                better=where_it_matters(tables[own], tables[1 - own]),
                shape=shape_of(body, bodies[1 - own]),
                targets=nearest(offer.kinds, film, targets, within=within),
            )
        )
    return Versus(
        how=film.how,
        a=sides[0],
        b=sides[1],
        shared=round(shared, 1),
        within=within,
        words=_words(sides[0], sides[1], shared),
    )


def _words(a: Side, b: Side, shared: float) -> str:
    larger, smaller, which = (a, b, "first") if a.volume >= b.volume else (b, a, "second")
    if larger.volume <= 0.0:
        return "neither spans a volume of colours: a palette needs three tubes"
    if larger.volume - smaller.volume <= (larger.error + smaller.error) * larger.volume:
        sentence = "both reach as much"
    elif smaller.volume <= 0.0:
        sentence = f"the {which} reaches more; the other spans no volume"
    else:
        sentence = f"the {which} reaches {larger.volume / smaller.volume - 1.0:.0%} more"
    wheres = [
        f"the {name} is cleaner in {side.better}"
        for name, side in (("first", a), ("second", b))
        if side.better
    ]
    if a.targets:
        counts = [sum(t.reached for t in side.targets) for side in (a, b)]
        wheres.append(
            f"of {len(a.targets)} colours the first has {counts[0]}, the second {counts[1]}"
        )
    return "; ".join([sentence, *wheres])
