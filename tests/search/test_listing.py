"""The short list."""

from __future__ import annotations

import numpy as np

from tubewise.search.recipes import search


def test_alternatives_differ_in_kind(problem):
    price = np.linspace(1, 30, 14)
    result = search(problem(14, 17, [50, 10, 20], max_paints=4, price=price, alternatives=5))
    sets = [frozenset(f.indices) for f in (result.best, *result.alternatives)]
    assert len(set(sets)) == len(sets) > 1
    for found in result.alternatives:
        if found.kind == "fewer paints":
            assert len(found.indices) < len(result.best.indices)
        if found.kind == "other paints":
            assert len(set(found.indices) & set(result.best.indices)) < len(found.indices)
