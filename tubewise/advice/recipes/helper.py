"""Which tube from a shop would help a box that cannot reach a colour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from tubewise.advice.recipes.described import Brief
from tubewise.advice.recipes.miss import judged_under, misses, under_text
from tubewise.advice.recipes.problem import problem_of
from tubewise.advice.recipes.results import Helper
from tubewise.advice.recipes.wishes import price_per_ml
from tubewise.advice.words.pigments import pigments_text
from tubewise.paints.paint import Paint
from tubewise.search.problem import Proportions
from tubewise.search.recipes import search
from tubewise.search.threads import THREADS, spread

# CIEDE2000 a tube from the shop must gain to be worth naming.
WORTH_A_TUBE = 0.5


def most_helpful(
    brief: Brief,
    paints: Sequence[Paint],
    shop: Sequence[Paint],
    best: float,
    max_paints: int,
    max_parts: int | None = None,
) -> Helper | None:
    """The tube of `shop` that helps the box most, or None when none gains half a unit.

    `best` is what the box comes to without it, CIEDE2000 under the light asked for; what is
    promised is what `recipe` then finds within the same limits.
    """
    if len(brief.wishes.must) >= max_paints:
        return None
    paint = _nearest(brief, paints, _worth_trying(shop, paints), max_paints, max_parts)
    if paint is None or paint.tube is None:
        return None
    final = _solved(brief, [*paints, paint], max_paints, max_parts, prove=True)
    by_light = misses(brief.target, final.reflectance)
    light = judged_under(by_light, brief.wishes)
    near = by_light[light]
    if len(paints) not in final.indices or near > best - WORTH_A_TUBE:
        return None
    return Helper(
        tube=paint.tube.id,
        title=paint.name,
        pigments=paint.pigments,
        delta_e00=round(near, 2),
        price=paint.tube.price,
        currency=paint.tube.currency,
        words=f"with {paint.name} ({pigments_text(paint.pigments)}) the miss falls to "
        f"{near:.1f}{under_text(light)}",
    )


def _worth_trying(shop: Sequence[Paint], paints: Sequence[Paint]) -> list[Paint]:
    """The cheapest tube in stock of each pigment set that the box does not have."""
    owned = {p.refs for p in paints}
    cheapest: dict[tuple[str, ...], Paint] = {}
    for paint in shop:
        tube = paint.tube
        if tube is not None and tube.stock != 0 and paint.refs not in owned:
            known = cheapest.get(paint.refs)
            if known is None or _price(paint) < _price(known):
                cheapest[paint.refs] = paint
    return list(cheapest.values())


def _price(paint: Paint) -> float:
    return price_per_ml(paint) or np.inf


def _nearest(
    brief: Brief,
    paints: Sequence[Paint],
    offered: Sequence[Paint],
    max_paints: int,
    max_parts: int | None,
) -> Paint | None:
    """The paint of those `offered` with which the box comes nearest."""

    def cost(paint: Paint, parts: int | None) -> float:
        name = paint.tube.id if paint.tube else paint.name
        must = replace(brief.wishes, must=(*brief.wishes.must, name))
        with_it = Brief(target=brief.target, medium=brief.medium, wishes=must)
        return _solved(with_it, [*paints, paint], max_paints, parts).cost

    # Whole parts come no nearer than free ones: once the freely mixed are worse than the nearest
    # in whole parts, the rest need not be solved. Each search is small, so the processors share
    # the searches rather than the sets of one.
    free = spread(lambda paint: cost(paint, None), offered)
    loose = sorted(
        (nearness, n, paint) for n, (nearness, paint) in enumerate(zip(free, offered, strict=True))
    )
    nearest: tuple[float, Paint] | None = None
    for first in range(0, len(loose), THREADS):
        group = [p for free, _, p in loose[first : first + THREADS]]
        if nearest is not None and loose[first][0] >= nearest[0]:
            break
        for whole, paint in zip(spread(lambda p: cost(p, max_parts), group), group, strict=True):
            if nearest is None or whole < nearest[0]:
                nearest = whole, paint
    return None if nearest is None else nearest[1]


def _solved(
    brief: Brief, pool: Sequence[Paint], max_paints: int, max_parts: int | None, prove: bool = False
) -> Proportions:
    most = min(max_paints, len(pool))
    return search(problem_of(brief.target, pool, most, max_parts, brief.wishes, prove)).best
