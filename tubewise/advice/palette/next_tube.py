"""The next tube: what of a shop adds most to a box, for its owner's colours or for range."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tubewise.advice.palette.chosen import Chosen, chosen
from tubewise.advice.palette.film import Film, film_for
from tubewise.advice.palette.offer import Kind, Offer
from tubewise.advice.palette.reach import body_of
from tubewise.advice.palette.shape import chroma_table, where_it_matters
from tubewise.advice.palette.targets import WITHIN, distances
from tubewise.advice.recipes.target import Target
from tubewise.advice.words.lists import counted
from tubewise.advice.words.price import price_text
from tubewise.colour.arrays import Floats
from tubewise.errors import UserError
from tubewise.labels.phrasing import listing
from tubewise.paints.shelf import Shelf
from tubewise.search.body import HALF, ROUGH
from tubewise.search.widest import volumes_with_each

# Of so many of the most helpful tubes every pair is tried.
PAIRED = 12
LISTED = 5
# A tube must add so much of the volume there is, or so much CIEDE2000 in all, to be named.
WORTH_VOLUME, WORTH_NEARER = 0.01, 0.5


@dataclass(frozen=True, slots=True, kw_only=True)
class Next:
    """One or two tubes and what they add to the box.

    `gains`: the part of the box's volume that they add; `reached`: how many targets they bring
    within the difference asked for; `nearer`: by how much all targets still missed come nearer, in
    CIEDE2000; `price` of both. `words` says it.
    """

    tubes: tuple[Chosen, ...]
    gains: float
    reached: int
    nearer: float
    price: float | None
    currency: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NextTube:
    """What to buy next: `singles` by what they add, `for_money` by what they add for their price.

    `pair`: the two that add most together, among the most helpful singles (`paired` of them); None
    where no second adds anything. `targets` and `within` as asked, 0 targets when it was for range.
    """

    how: str
    targets: int
    within: float
    singles: tuple[Next, ...]
    for_money: Next | None
    pair: Next | None
    paired: int
    words: str


def next_tube(
    box: Offer,
    shop: Offer,
    shelf: Shelf,
    targets: Sequence[Target] = (),
    *,
    how: str = "",
    within: float = WITHIN,
    budget: float | None = None,
) -> NextTube:
    """The one or two tubes of a shop that add most to a box.

    For `targets`: how many more come within `within` CIEDE2000, then how much nearer the rest come;
    without targets, the volume in CIELAB. Nothing dearer than `budget`, for one or for both. Raises
    UserError where the media differ or the shop has nothing new.
    """
    if box.medium and shop.medium and box.medium != shop.medium:
        raise UserError(f"the box is {box.medium}, the shop's tubes are {shop.medium}")
    owned = {kind.refs for kind in box.kinds}
    new = [
        kind for kind in shop.kinds if kind.refs not in owned and _within_budget((kind,), budget)
    ]
    if not new:
        raise UserError("the shop has nothing here that the box has not, within these limits")
    film = film_for(box.medium or shop.medium, shelf, how)
    judge = _Judge(list(box.kinds), film, targets, within)
    scores = judge.each([], new)
    order = sorted(range(len(new)), key=lambda i: (-scores[i], new[i].refs))
    singles = [judge.next_of((new[i],), shelf) for i in order[:LISTED] if scores[i] > judge.worth]
    best = [new[i] for i in order[:PAIRED] if scores[i] > judge.worth]
    priced = [i for i in order if new[i].price and scores[i] > judge.worth]
    money = max(priced, key=lambda i: scores[i] / (new[i].price or 1.0), default=None)
    return NextTube(
        how=film.how,
        targets=len(targets),
        within=within,
        singles=tuple(singles),
        for_money=None if money is None else judge.next_of((new[money],), shelf),
        pair=judge.best_pair(best, shelf, budget),
        paired=len(best),
        words=singles[0].words if singles else "no tube of the shop adds anything worth its price",
    )


def _within_budget(kinds: Sequence[Kind], budget: float | None) -> bool:
    if budget is None:
        return True
    known = [kind.price for kind in kinds]
    return None not in known and sum(p for p in known if p is not None) <= budget + 1e-9


class _Judge:
    """What kinds add to a box: for targets where there are any, else in volume."""

    def __init__(
        self, box: list[Kind], film: Film, targets: Sequence[Target], within: float
    ) -> None:
        self.box, self.film, self.targets, self.within = box, film, targets, within
        self.worth = WORTH_NEARER if targets else WORTH_VOLUME
        self.now = body_of(box, film, HALF)
        self.missed_now = distances(box, film, targets) if targets else np.zeros(0)

    def each(self, also: Sequence[Kind], choices: Sequence[Kind]) -> list[float]:
        """The score of the box with `also` and each of `choices`."""
        if self.targets:
            return [self._nearness(self._distances((*also, kind))) for kind in choices]
        kinds = [*self.box, *also, *choices]
        paints = [kind.paint for kind in kinds]
        have = len(self.box) + len(also)
        volumes = volumes_with_each(
            self.film.problem(paints),
            range(have),
            range(have, len(kinds)),
            free=self.film.free(paints),
        )
        # The same roughness on both sides of the difference.
        before = body_of(self.box, self.film, ROUGH).volume
        return [volume / before - 1.0 if before > 0.0 else volume for volume in volumes]

    def _distances(self, more: Sequence[Kind]) -> Floats:
        return np.minimum(self.missed_now, distances([*self.box, *more], self.film, self.targets))

    def _nearness(self, after: Floats) -> float:
        """Targets brought within the difference count a hundred; the rest how much nearer."""
        reached = int((after <= self.within).sum() - (self.missed_now <= self.within).sum())
        return 100.0 * reached + self._nearer(after)

    def _nearer(self, after: Floats) -> float:
        gain = np.maximum(self.missed_now, self.within) - np.maximum(after, self.within)
        return float(gain.sum())

    def best_pair(self, best: Sequence[Kind], shelf: Shelf, budget: float | None) -> Next | None:
        """The best two of the most helpful kinds."""
        found: tuple[float, tuple[Kind, Kind]] | None = None
        alone = max(self.each([], best), default=0.0)
        for i, first in enumerate(best):
            seconds = [k for k in best[i + 1 :] if _within_budget((first, k), budget)]
            if not seconds:
                continue
            scores = self.each([first], seconds)
            at = int(np.argmax(scores))
            if found is None or scores[at] > found[0]:
                found = scores[at], (first, seconds[at])
        if found is None or found[0] <= alone + self.worth:
            return None
        return self.next_of(found[1], shelf)

    def next_of(self, kinds: Sequence[Kind], shelf: Shelf) -> Next:
        """What some kinds add, in full."""
        after = body_of([*self.box, *kinds], self.film, HALF)
        before = self.now.volume
        gains = max(after.volume / before - 1.0, 0.0) if before > 0.0 else 0.0
        reached, nearer = 0, 0.0
        if self.targets:
            missed = self._distances(kinds)
            reached = int((missed <= self.within).sum() - (self.missed_now <= self.within).sum())
            nearer = self._nearer(missed)
        prices = [kind.price for kind in kinds]
        price = None if None in prices else round(sum(p for p in prices if p is not None), 2)
        tubes = tuple(chosen(kind, shelf) for kind in kinds)
        currency = tubes[0].currency
        hues = where_it_matters(chroma_table(after), chroma_table(self.now))
        facts = []
        if self.targets:
            facts.append(f"{counted(reached, 'colour')} more within {self.within:g}")
            facts.append(f"what is still missed comes nearer by {nearer:.1f} in all")
        facts.append(
            f"{gains:.0%} more range" + (f", mostly {hues}" if hues else "")
            if before > 0.0
            else "the first tubes of a range"
        )
        names = listing([tube.title for tube in tubes])
        cost = price_text(price, currency)
        return Next(
            tubes=tubes,
            gains=round(gains, 4),
            reached=reached,
            nearer=round(nearer, 2),
            price=price,
            currency=currency if price is not None else "",
            words=f"{names}{f' for {cost}' if cost else ''}: {'; '.join(facts)}",
        )
