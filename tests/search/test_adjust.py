"""Correction moves, errors in squeezing, and the way a recipe misses."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tubewise.colour.lab import lab_from_relative
from tubewise.search.adjust import corrections, mixture_slopes
from tubewise.search.listing import reflectance_of
from tubewise.search.prepared import prepare
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
        change = (lab_from_relative(ready.aim.W @ R)[0] - found.lab[0]) / 1e-5 * 0.01
        assert move.move == pytest.approx(change, rel=2e-2, abs=2e-3)
        assert move.lightness == move.move[0]
        assert np.hypot(move.chroma, move.hue) == pytest.approx(np.hypot(*move.move[1:]))


@pytest.mark.parametrize("film", [None, 0.3])
def test_lab_slopes_of_a_mixture_agree_with_differences(problem, film):
    ready = prepare(problem(6, 7, [50, 0, 0], film_thickness=film, ground=0.9))
    b = np.array([0.5, 0.1, 0.1, 0.1, 0.1, 0.1])
    lab, J = np.empty(3), np.empty((3, 6))
    arguments = (ready.film, ready.aim.W)
    K, S = ready.paints.K, ready.paints.S
    mixture_slopes(K, S, b, *arguments, lab, J)
    for i in range(6):
        moved = []
        for step in (1e-6, -1e-6):
            c, here = b.copy(), np.empty(3)
            c[i] += step
            mixture_slopes(K, S, c, *arguments, here, np.empty((3, 6)))
            moved.append(here)
        assert J[:, i] == pytest.approx((moved[0] - moved[1]) / 2e-6, rel=1e-4, abs=1e-4)
