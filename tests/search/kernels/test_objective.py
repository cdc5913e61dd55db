"""The objective of a mixture against the plain layers."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import opaque_reflectance
from tubewise.optics.surface import measured_from_internal
from tubewise.search.kernels.objective import value_at
from tubewise.search.prepared import prepare


def test_the_colour_of_a_mixture_is_that_of_the_colour_layer(problem):
    ready = prepare(problem(4, 8, [50, 10, 10]))
    shares = np.array([0.6, 0.2, 0.1, 0.1])
    lab = np.empty((1, 3))
    K, S = ready.paints.K, ready.paints.S
    value = value_at(K, S, shares, ready.film, ready.aim, np.empty((3, 36)), lab)
    measured = measured_from_internal(opaque_reflectance(shares @ K, shares @ S))
    assert lab[0] == pytest.approx(lab_from_reflectance(measured), abs=1e-9)
    assert value == pytest.approx(float(delta_e_2000([50, 10, 10], lab[0])), abs=1e-9)


def test_the_spectral_objective_is_the_root_mean_square_difference(problem):
    goal = np.linspace(0.1, 0.6, 36)
    ready = prepare(problem(3, 9, None, target_reflectance=goal, objective="spectral"))
    shares = np.array([0.5, 0.3, 0.2])
    K, S = ready.paints.K, ready.paints.S
    room = (np.empty((3, 36)), np.empty((1, 3)))
    value = value_at(K, S, shares, ready.film, ready.aim, *room)
    R = measured_from_internal(opaque_reflectance(shares @ K, shares @ S))
    assert value == pytest.approx(100 * np.sqrt(((R - goal) ** 2).mean()), abs=1e-9)
