"""Correction moves, errors in squeezing, and the way a recipe misses."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tubewise.advice.search import corrections, how_sure, search
from tubewise.advice.search.adjust import miss
from tubewise.advice.search.kernels import delta_e
from tubewise.advice.search.listing import reflectance_of
from tubewise.advice.search.problem import labs_of, prepare


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


def test_an_error_of_one_part_is_what_remixing_gives(problem):
    ask = problem(8, 22, [50, 20, 10], max_paints=3, max_parts=10)
    found = search(ask).best
    sure = how_sure(ask, found)
    ready = prepare(ask)
    for i in range(len(found.parts)):
        parts = np.array(found.parts, dtype=float)
        parts[i] += 1
        R = reflectance_of(ready, found.indices, parts / parts.sum())
        assert sure.one_part[i] == pytest.approx(delta_e(*found.lab[0], *labs_of(R, ready.W)[0]))
    assert (sure.ten_per_cent >= 0).all()
    assert sure.ten_per_cent_all >= sure.ten_per_cent.max()


def test_a_miss_says_which_way(problem):
    ask = problem(6, 23, [70, 80, 60], max_paints=3)
    found = search(replace(ask, prove=False)).best
    away = miss(found, [70, 80, 60])
    assert away.chroma < 0 and away.delta_e00 == pytest.approx(found.delta_e00[0])
    total = away.lightness**2 + away.chroma**2 + away.hue**2
    assert total == pytest.approx(((found.lab[0] - [70, 80, 60]) ** 2).sum())
