"""Every set of paints comes once, and only those that are allowed."""

from __future__ import annotations

from itertools import combinations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tubewise.search.subsets import how_many, of_different_families, sets_from


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_all_sets_come_once_whatever_is_required(data):
    n = data.draw(st.integers(1, 9))
    family = np.array(data.draw(st.lists(st.integers(0, 4), min_size=n, max_size=n)))
    must = data.draw(st.lists(st.integers(0, n - 1), max_size=2, unique_by=lambda i: family[i]))
    must = np.array(sorted(must), dtype=np.int64)
    size = data.draw(st.integers(max(1, len(must)), 4))
    free = np.array([i for i in range(n) if i not in must], dtype=np.int64)
    firsts = range(len(free)) if size > len(must) else range(1)
    at_once = data.draw(st.integers(1, 7))
    made = [
        tuple(sorted(row))
        for first in firsts
        for sets in sets_from(first, free, must, size, at_once)
        for row in of_different_families(sets, family).tolist()
    ]
    wanted = [
        rows
        for rows in combinations(range(n), size)
        if set(must.tolist()) <= set(rows) and len({family[i] for i in rows}) == size
    ]
    assert sorted(made) == wanted
    assert how_many(family, tuple(must.tolist()), size) == len(wanted)
