"""Colours a palette is wanted for, and how near it comes to each of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tubewise.advice.palette.film import Film
from tubewise.advice.palette.offer import Kind
from tubewise.advice.recipes.described import recipe_part
from tubewise.advice.recipes.results import RecipePart, parts_text
from tubewise.advice.recipes.target import Target
from tubewise.colour.arrays import Floats
from tubewise.colour.patch import Colour
from tubewise.colour.words import describe
from tubewise.search.batch import search_many

MAX_PAINTS = 3
MAX_PARTS = 16
# CIEDE2000 within which a colour counts as reached where nothing else is asked: you would see it
# only side by side.
WITHIN = 2.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearest:
    """One target and the nearest mixture of at most three tubes.

    `parts` are whole where they were asked for, else of a hundred; `reached` within the difference
    asked for; `proved` that no mixture of so many tubes comes nearer.
    """

    name: str
    target: Colour
    colour: Colour
    delta_e00: float
    reached: bool
    proved: bool
    parts: tuple[RecipePart, ...]
    words: str


def nearest(
    kinds: Sequence[Kind],
    film: Film,
    targets: Sequence[Target],
    *,
    within: float = WITHIN,
    max_parts: int | None = None,
    tinted: bool = False,
    prove: bool = True,
) -> tuple[Nearest, ...]:
    """The nearest mixture of at most three of the kinds to each target, with water if it's wet.

    `tinted`: in a white of theirs, which then counts for none, and in any proportions.
    """
    if not targets:
        return ()
    paints = [kind.paint for kind in kinds]
    mixed = [*paints, *([film.at_hand] if film.at_hand else [])]
    most = min(MAX_PAINTS + (tinted or film.at_hand is not None), len(mixed))
    problem = film.problem(paints, most, max_parts=max_parts, prove=prove)
    out = []
    for target, result in zip(targets, search_many(problem, [t.lab for t in targets]), strict=True):
        found = result.best
        amounts = found.parts if found.parts is not None else tuple(_hundredths(found.shares))
        parts = tuple(
            recipe_part(mixed[i], float(n))
            for i, n in zip(found.indices, amounts, strict=True)
            if n > 0
        )
        miss = float(found.delta_e00[0])
        out.append(
            Nearest(
                name=target.name,
                target=target.colour,
                colour=Colour.of(found.lab[0]),
                delta_e00=round(miss, 2),
                reached=miss <= within,
                proved=result.proved_best,
                parts=parts,
                words=f"{parts_text(parts)}: {describe(target.lab, found.lab[0])}",
            )
        )
    return tuple(out)


def _hundredths(shares: Sequence[float]) -> Floats:
    return np.round(np.array(shares) * 100.0, 1)


def distances(
    kinds: Sequence[Kind], film: Film, targets: Sequence[Target], *, prove: bool = False
) -> Floats:
    """CIEDE2000 (targets,) of the nearest mixture of at most three of the kinds."""
    paints = [kind.paint for kind in kinds]
    most = min(MAX_PAINTS + (film.at_hand is not None), len(paints) + (film.at_hand is not None))
    ask = film.problem(paints, most, prove=prove)
    found = search_many(ask, [target.lab for target in targets])
    return np.array([result.best.delta_e00[0] for result in found])
