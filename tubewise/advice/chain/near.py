"""Which paints lie near a paint: an index over how they conduct themselves, one for each medium."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from scipy.spatial import cKDTree

from tubewise.advice.alike.handy import handiness
from tubewise.advice.currency import compared, usual_currency
from tubewise.advice.medium import mixes_with
from tubewise.colour.arrays import Floats
from tubewise.paints.paint import DRAWS
from tubewise.tubes.tube import Tube

# As many as one comparison at a glance takes, and a few for the sizes of the tube's own paint.
NEAR = DRAWS + 1


@dataclass(frozen=True, slots=True)
class Near:
    """The tubes near one, nearest first, and how far the farthest of them lies.

    `radius` is infinite where there were no more to be had.
    """

    tubes: tuple[str, ...]
    radius: float


# Where a tube lies, by the medium of the question: a gouache among watercolours is laid in washes.
Points = Mapping[str, Floats]


def mixing(tubes: Sequence[Tube]) -> dict[str, tuple[str, ...]]:
    """The media of these tubes, each with those here that mix with it."""
    media = sorted({tube.medium for tube in tubes})
    return {m: tuple(other for other in media if mixes_with(other, m)) for m in media}


class Nearness:
    """Finds the tubes in stock that lie near a point, among those that mix with its medium.

    Of one paint in several sizes it finds the tube that would be offered: the cheapest. `points`
    are those of `conduct` by tube id and medium; tubes without one are passed over.
    """

    def __init__(self, tubes: Sequence[Tube], points: Mapping[str, Points]) -> None:
        self._trees: dict[str, tuple[tuple[str, ...], cKDTree]] = {}
        by_medium: dict[str, dict[object, tuple[str, Floats]]] = {}
        for tube in _cheapest_first(tubes):
            if tube.stock == 0:
                continue
            for medium, point in points.get(tube.id, {}).items():
                paint = tube.paint, tube.medium, tuple(point)
                by_medium.setdefault(medium, {}).setdefault(paint, (tube.id, point))
        for medium, kept in by_medium.items():
            ids = tuple(key for key, _ in kept.values())
            self._trees[medium] = ids, cKDTree(np.stack([point for _, point in kept.values()]))

    def near(self, medium: str, points: Floats) -> list[Near]:
        """The tubes near each of points (n, d) of a medium; a tube is near itself too."""
        if medium not in self._trees:
            return [Near((), np.inf)] * len(points)
        names, tree = self._trees[medium]
        count = min(NEAR, len(names))
        apart, places = tree.query(points, k=list(range(1, count + 1)))
        return [
            Near(
                tuple(names[place] for place in row),
                float(far[-1]) if count == NEAR else np.inf,
            )
            for row, far in zip(places, apart, strict=True)
        ]


def handiest(tubes: Sequence[Tube]) -> dict[str, tuple[str, ...]]:
    """By medium, the tubes to mix from: of each single pigment the handiest that is in stock."""
    found: dict[str, dict[object, str]] = {}
    usual = usual_currency(tubes)
    for tube in sorted(tubes, key=lambda tube: handiness(tube, usual)):
        if tube.stock != 0 and len(tube.refs) == 1:
            found.setdefault(tube.medium, {}).setdefault(tube.refs, tube.id)
    return {medium: tuple(kept.values()) for medium, kept in found.items()}


def _cheapest_first(tubes: Sequence[Tube]) -> list[Tube]:
    usual = usual_currency(tubes)
    return sorted(tubes, key=lambda tube: (compared(tube.price, tube.currency, usual), tube.id))
