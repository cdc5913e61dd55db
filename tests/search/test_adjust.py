"""Correction moves, errors in squeezing, and the way a recipe misses."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tubewise.search.adjust import corrections
from tubewise.search.listing import reflectance_of
from tubewise.search.problem import labs_of, prepare
from tubewise.search.recipes import search


@pytest.mark.parametrize("film", [None, 0.4])
def test_a_correction_is_what_one_per_cent_more_does(problem, film):
    ask = problem(8, 21, [50, 20, 10], max_paints=3, film_thickness=film, ground=0.9)
    found = search(replace(ask, prove=False)).best
    ready = prepare(ask)
    for i, move in enumerate(corrections(ask, found)):
        more = np.array(found.shares)
        more[i] += 1e-5
        R = reflectance_of(ready, found.indices, more / more.sum())
        change = (labs_of(R, ready.W)[0] - found.lab[0]) / 1e-5 * 0.01
        assert move.move == pytest.approx(change, rel=2e-2, abs=2e-3)
        assert move.lightness == move.move[0]
        assert np.hypot(move.chroma, move.hue) == pytest.approx(np.hypot(*move.move[1:]))
