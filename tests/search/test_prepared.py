"""A problem is checked before it is laid out, and laid out as the plain layers would."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.surface import Surface, internal_from_measured
from tubewise.search.prepared import prepare


@pytest.mark.parametrize(
    ("wishes", "words"),
    [
        ({"max_paints": 0}, "max_paints"),
        ({"must": (1,), "must_not": (1,)}, "required and forbidden"),
        ({"must": (0, 1, 2), "max_paints": 2}, "more paints"),
        ({"max_parts": 1, "must": (0, 1)}, "max_parts"),
        ({"must_not": tuple(range(5))}, "no paint"),
        ({"objective": "spectral"}, "reflectance"),
        ({"target_lab": None}, "target"),
        ({"K": np.ones((5, 35))}, "36"),
        ({"K": np.full((5, 36), np.nan)}, "finite"),
    ],
)
def test_wishes_that_clash_are_refused(problem, wishes, words):
    with pytest.raises(ValueError, match=words):
        prepare(replace(problem(5, 1, [50, 0, 0], max_paints=3), **wishes))


def test_forbidden_paints_are_left_out_and_rows_say_which_are_there(problem):
    ask = problem(5, 1, [50, 0, 0], must=(4,), must_not=(0, 2))
    ready = prepare(ask)
    assert ready.rows.tolist() == [1, 3, 4] and ready.must == (2,)
    assert pytest.approx(ask.K[[1, 3, 4]]) == ready.paints.K


def test_the_colour_of_a_wanted_spectrum_is_that_of_the_colour_layer(problem):
    R = np.linspace(0.1, 0.7, 36)
    ready = prepare(problem(3, 1, None, target_reflectance=R, objective="spectral"))
    assert ready.aim.lab[0] == pytest.approx(lab_from_reflectance(R), abs=1e-9)
    assert ready.aim.goal == pytest.approx(R)


def test_a_ground_is_what_it_is_inside_the_film(problem):
    ready = prepare(problem(3, 1, [50, 0, 0], film_thickness=0.5, ground=0.8))
    assert ready.film.thickness == 0.5
    assert ready.film.ground == pytest.approx(internal_from_measured(np.full(36, 0.8), Surface()))


def test_equal_amounts_of_opaque_paints_are_equally_strong(problem):
    paints = prepare(problem(5, 1, [50, 0, 0])).paints
    assert (paints.K + paints.S).mean(axis=1) * paints.unit == pytest.approx(np.ones(5))
