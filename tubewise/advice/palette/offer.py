"""What a palette may be chosen from: kinds of paint, each with the tubes of it on sale.

Tubes of the same pigments are one kind: whoever plans asks for pigments, and buys the tube that
costs least.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tubewise.advice.exclusion import excluded, meant
from tubewise.advice.medium import in_one_medium
from tubewise.advice.recipes.wishes import PLAIN, Wishes, permitted
from tubewise.colour.arrays import Floats
from tubewise.errors import UserError
from tubewise.paints.appearance import is_white
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.pigments.models import optics
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Kind:
    """Paint of one set of pigments: how it mixes, and the `tubes` of it, the cheapest first.

    `paint` is that of the cheapest tube; without tubes it is the bare pigment.
    """

    refs: tuple[Ref, ...]
    paint: Paint
    tubes: tuple[Tube, ...] = ()

    @property
    def tube(self) -> Tube | None:
        """The tube to buy."""
        return self.tubes[0] if self.tubes else None

    @property
    def price(self) -> float | None:
        """What the cheapest tube costs, where that is known."""
        return self.tube.price if self.tube else None

    @property
    def pigments(self) -> tuple[str, ...]:
        """The pigments as the label of the tube to buy shows them."""
        return self.tube.pigments if self.tube else self.paint.pigments

    @property
    def name(self) -> str:
        """The tube's title, or the pigment."""
        return self.paint.name


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Offer:
    """The kinds to choose from, in one order whatever that of the tubes was; in which `medium`.

    `currency` of all prices, "" where none is known.
    """

    kinds: tuple[Kind, ...]
    medium: str
    currency: str = ""

    def whites(self) -> tuple[int, ...]:
        """Rows of the whites."""
        return tuple(i for i, kind in enumerate(self.kinds) if is_white(kind.paint))

    def rows(self, wishes: Sequence[str]) -> tuple[int, ...]:
        """Rows of the kinds that wishes such as `PY3`, a tube's id or its name mean.

        Raises UserError for a wish that means nothing here.
        """
        tubes = [tube for kind in self.kinds for tube in kind.tubes]
        found: list[int] = []
        for wish in wishes:
            bare = [i for i, kind in enumerate(self.kinds) if kind.refs == (wish,)]
            if bare:
                found += bare
                continue
            ids = {tube.id for tube in meant(wish, tubes).tubes}
            found += [
                i for i, kind in enumerate(self.kinds) if any(t.id in ids for t in kind.tubes)
            ]
        return tuple(dict.fromkeys(found))

    def prices(self) -> Floats:
        """Price of each kind's cheapest tube (n,); one that is not known is taken as the dearest.

        Zeros where no price is known.
        """
        known = [k.price for k in self.kinds if k.price is not None]
        top = max(known, default=0.0)
        return np.array([top if k.price is None else k.price for k in self.kinds])


def offer_of(
    tubes: Sequence[Tube],
    shelf: Shelf,
    *,
    medium: str = "",
    wishes: Wishes = PLAIN,
    in_stock: bool = True,
    by_pigment: bool = False,
) -> Offer:
    """The kinds of paint among tubes of one medium that declare their pigments.

    `wishes` leave out tubes as a recipe's do, `in_stock` what is known to be sold out.
    `by_pigment` takes every kind as its pigments make it, as a supply list does, and not as the
    cheapest tube's swatch shows it.
    Raises UserError where the tubes are of several media or the wishes leave none.
    """
    of_medium = in_one_medium(tubes, medium)
    without = excluded(wishes.must_not, of_medium.tubes)
    sold = [t for t in of_medium.tubes if t.id not in without and (not in_stock or t.stock != 0)]
    paints = [p for p in map(shelf.tube, sold) if p is not None and p.refs]
    if not paints:
        raise UserError("no tube here declares its pigments, so no palette can be planned")
    paints = permitted(paints, wishes, of_medium.medium)
    groups: dict[tuple[Ref, ...], list[Paint]] = defaultdict(list)
    for paint in paints:
        groups[tuple(sorted(paint.refs))].append(paint)
    kinds = []
    for refs, group in sorted(groups.items()):
        group.sort(key=_by_price)
        tubes_of = tuple(p.tube for p in group if p.tube is not None)
        paint = group[0]
        if by_pigment:
            paint = _as_pigments(refs, group, shelf)
        kinds.append(Kind(refs=refs, paint=paint, tubes=tubes_of))
    return Offer(kinds=tuple(kinds), medium=of_medium.medium, currency=_currency(paints))


def _by_price(paint: Paint) -> tuple[bool, float, str]:
    tube = paint.tube
    assert tube is not None
    return tube.price is None, tube.price or 0.0, tube.id


def _as_pigments(refs: tuple[Ref, ...], group: Sequence[Paint], shelf: Shelf) -> Paint:
    """The paint of a kind by its pigments alone; one that somebody measured is what it is."""
    measured = [paint for paint in group if paint.basis == "measured"]
    if measured or len(refs) > 1:
        return (measured or group)[0]
    return shelf.pigment(refs[0])


def _currency(paints: Sequence[Paint]) -> str:
    """The currency of all prices. Raises UserError where there are several."""
    met = sorted({p.tube.currency for p in paints if p.tube and p.tube.price is not None})
    if len(met) > 1:
        names = " and ".join(name or "no currency" for name in met)
        raise UserError(f"prices in {names} cannot be compared; keep one currency in the file")
    return met[0] if met else ""


def offer_of_register(shelf: Shelf, medium: str = "", wishes: Wishes = PLAIN) -> Offer:
    """Every pigment and form that the register has optics for, as if it were on sale."""
    paints = []
    for pigment in load():
        for ref in pigment.refs:
            try:
                optics(ref)
            except (KeyError, ValueError, UserError):
                continue
            if not {ref, ref.code} & set(wishes.must_not):
                paints.append(shelf.pigment(ref))
    kept = permitted(paints, wishes, medium)
    kinds = {p.refs: Kind(refs=p.refs, paint=p) for p in kept}
    return Offer(kinds=tuple(kinds[refs] for refs in sorted(kinds)), medium=medium)
