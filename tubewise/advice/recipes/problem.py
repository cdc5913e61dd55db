"""A target, a box and the wishes as the search takes them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from tubewise.advice.recipes.target import Target
from tubewise.advice.recipes.wishes import (
    ALL_LIGHTS,
    PLAIN,
    SPECTRUM,
    WASH,
    WORTH_A_PAINT,
    Wishes,
    penalties,
    prices,
    required_rows,
)
from tubewise.colour.arrays import Floats
from tubewise.colour.lights import LIGHTS, weights, white_xyz
from tubewise.errors import UserError
from tubewise.optics.film import THIN_FILM
from tubewise.optics.surface import measured_from_internal
from tubewise.paints.appearance import ground_reflectance
from tubewise.paints.paint import Paint
from tubewise.paints.wash import PAPER, STRAIGHT_FILM
from tubewise.search.problem import Proportions, SearchProblem

if TYPE_CHECKING:
    from tubewise.search.problem import Objective


MAX_PAINTS = 4
MAX_PARTS = 16
# How long the search may go on proving before it states the gap that is left.
PROOF_SECONDS = 3.0


def problem_of(
    target: Target,
    paints: Sequence[Paint],
    max_paints: int,
    max_parts: int | None,
    wishes: Wishes = PLAIN,
    prove: bool = True,
) -> SearchProblem:
    """The search problem of a target, a box and the wishes.

    Without `prove` the first good answers are taken as they are: an offer that is judged by its
    behaviour afterwards need not be the best there is. Raises UserError for an unknown light.
    """
    lights, objective = _lights(wishes.light)
    film, ground = _film(wishes)
    return SearchProblem(
        K=np.stack([p.K[0] for p in paints]),
        S=np.stack([p.S[0] for p in paints]),
        weights=np.stack([weights(light) for light in lights]),
        whites=np.stack([white_xyz(light) for light in lights]),
        target_lab=np.stack([target.lab_under(light) for light in lights]),
        target_reflectance=target.reflectance,
        objective=objective,
        max_paints=max_paints,
        max_parts=max_parts,
        must=required_rows(paints, wishes),
        min_share=wishes.smallest_share,
        film_thickness=film,
        k1=wishes.surface.k1,
        k2=wishes.surface.k2,
        ground=ground,
        family=families(paints),
        price=prices(paints),
        penalty=penalties(paints, wishes),
        per_paint=WORTH_A_PAINT if wishes.fewer else 0.0,
        prove=prove,
        seconds=PROOF_SECONDS,
    )


def _film(wishes: Wishes) -> tuple[float | None, Floats | None]:
    """The film's thickness and what its ground reads; None and None for an opaque film."""
    if wishes.film == WASH:
        return STRAIGHT_FILM, measured_from_internal(PAPER)
    if wishes.film == "thin":
        return THIN_FILM, measured_from_internal(ground_reflectance(wishes.ground), wishes.surface)
    return None, None


def _lights(light: str) -> tuple[tuple[str, ...], Objective]:
    """The lights that count, and what is made least of under them."""
    if light in LIGHTS:
        return (light,), "one light"
    if light == ALL_LIGHTS:
        return LIGHTS, "worst light"
    if light == SPECTRUM:
        return LIGHTS, "spectral"
    raise UserError(
        f"the lights are {', '.join(LIGHTS)}, “all” for the worst of them, “spectrum” for the "
        "nearest reflectance",
        where=f"“{light}”",
    )


def families(paints: Sequence[Paint]) -> list[int]:
    """Paints of the same pigments are one family: a second tube of them adds nothing to a mixture.

    A paint whose pigments aren't known is a family of its own.
    """
    met: dict[object, int] = {}
    return [met.setdefault(p.refs or (i, p.name), len(met)) for i, p in enumerate(paints)]


def chosen_paints(found: Proportions, paints: Sequence[Paint]) -> tuple[list[Paint], Floats]:
    """The paints of a found mixture and their amounts (n,).

    The amounts are whole parts where they were asked for, else shares.
    """
    amounts = found.parts if found.parts is not None else found.shares
    kept = [(paints[i], float(n)) for i, n in zip(found.indices, amounts, strict=True) if n > 0]
    return [p for p, _ in kept], np.array([n for _, n in kept])
