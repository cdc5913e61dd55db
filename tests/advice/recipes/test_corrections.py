"""The moves that mend a mixture by eye."""

from __future__ import annotations

import numpy as np

from tests.advice.recipes.six_tubes import PAINTS, SHELF, named
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.target import target
from tubewise.colour.lab import lab_from_reflectance
from tubewise.paints.appearance import appearance


def test_corrections_name_a_paint_for_each_fault() -> None:
    best = recipe(target("lab:60,25,-20", SHELF), PAINTS, 3, 12).recipes[0]
    assert {c.tube for c in best.corrections} <= {p.tube for p in best.parts}
    first = best.corrections[0]
    assert first.words == f"if it is {first.too} than you want, add a little {first.title}"


def test_the_moves_that_mend_are_the_colours_own_slopes() -> None:
    best = recipe(target("lab:60,25,-20", SHELF), PAINTS, 3, 12).recipes[0]
    chosen = [named(part.title) for part in best.parts]
    parts = np.array([part.parts for part in best.parts])
    mends = {c.title: c.too for c in best.corrections}
    for i, paint in enumerate(chosen):
        more = parts + 0.05 * np.eye(len(parts))[i] * parts.sum()
        labs = []
        for n in (parts, more):
            K, S = (sum(c * getattr(p, k)[0] for c, p in zip(n / n.sum(), chosen, strict=True))
                    for k in "KS")  # fmt: skip
            labs.append(lab_from_reflectance(appearance(K, S)))
        said = mends[paint.name]
        gained = labs[1][0] - labs[0][0]
        # What is said to be too dark is mended by a paint that lightens, and the other way.
        if "darker" in said:
            assert gained > 0.0
        if "lighter" in said:
            assert gained < 0.0
