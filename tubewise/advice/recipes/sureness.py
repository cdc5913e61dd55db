"""How much a slip of the hand or another batch changes a mixture."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tubewise.advice.recipes.results import Sureness
from tubewise.advice.recipes.wishes import Wishes
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance
from tubewise.paints.paint import BATCH_LOAD, Paint, seeded

SLIPS = 400
# How far a hand is off in each part, as a standard deviation of its logarithm.
HAND = 0.1


def how_sure(paints: Sequence[Paint], parts: Floats, whole: bool, wishes: Wishes) -> Sureness:
    """What the usual slips do to `parts` (n,) of `paints`; `whole` where they are whole numbers."""
    if len(paints) < 2:
        return Sureness(one_part=None, ten_percent=0.0, other_batch=0.0)
    K, S = (np.stack([getattr(p, name)[0] for p in paints]) for name in ("K", "S"))

    def lab(amounts: Floats) -> Floats:
        c = amounts / amounts.sum(axis=-1, keepdims=True)
        return lab_from_reflectance(wishes.seen(c @ K, c @ S))

    here = lab(parts)
    one_part = None
    if whole:
        # A part too many of any paint, or too few of one that has more than one to lose.
        steps = np.eye(len(parts))
        near = np.concatenate([parts + steps, (parts - steps)[parts > 1.0]])
        one_part = round(float(delta_e_2000(lab(near), here).max()), 2)
    rng = seeded("slips" + "".join(p.name for p in paints))

    def spread(sigma: float) -> float:
        slips = parts * np.exp(sigma * rng.standard_normal((SLIPS, len(parts))))
        return round(float(np.percentile(delta_e_2000(lab(slips), here), 95.0)), 2)

    return Sureness(one_part=one_part, ten_percent=spread(HAND), other_batch=spread(BATCH_LOAD))
