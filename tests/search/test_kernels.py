"""The compiled kernels against the plain layers and against differences."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import film_reflectance, opaque_reflectance
from tubewise.optics.surface import Surface, measured_from_internal
from tubewise.search.kernels import (
    delta_e,
    delta_e_slopes,
    mixture_value,
    reflectance,
    reflectance_slopes,
)
from tubewise.search.polish import lab_slopes
from tubewise.search.problem import prepare

MEDIUM = np.array([0.65, 0.97 * 0.35, 0.03, 0.0])


@pytest.mark.parametrize("thickness", [0.0, 0.002, 0.3, 5.0])
def test_reflectance_is_that_of_the_optics_layer(thickness):
    rng = np.random.default_rng(1)
    K, S = rng.lognormal(0, 2, 36), rng.lognormal(-1, 1, 36)
    ground = rng.uniform(0, 1, 36)
    medium = MEDIUM.copy()
    medium[3] = thickness
    out = np.empty(36)
    reflectance(K, S, medium, ground, out)
    inner = film_reflectance(K, S, thickness, ground) if thickness else opaque_reflectance(K, S)
    assert out == pytest.approx(measured_from_internal(inner, Surface()), abs=1e-9)


@pytest.mark.parametrize("thickness", [0.0, 0.0005, 0.3, 50.0])
def test_reflectance_slopes_agree_with_differences(thickness):
    rng = np.random.default_rng(2)
    K, S = rng.lognormal(0, 1, 36), rng.lognormal(-1, 1, 36)
    ground = rng.uniform(0, 1, 36)
    medium = MEDIUM.copy()
    medium[3] = thickness
    out, dK, dS = np.empty(36), np.empty(36), np.empty(36)
    reflectance_slopes(K, S, medium, ground, out, dK, dS)
    up, down = np.empty(36), np.empty(36)
    for slope, kd, sd in ((dK, 1e-6, 0.0), (dS, 0.0, 1e-6)):
        reflectance(K + kd, S + sd, medium, ground, up)
        reflectance(K - kd, S - sd, medium, ground, down)
        assert slope == pytest.approx((up - down) / 2e-6, abs=1e-6)


def test_ciede2000_is_that_of_the_colour_layer():
    rng = np.random.default_rng(3)
    one = np.column_stack([rng.uniform(0, 100, 300), rng.normal(0, 40, (300, 2))])
    other = one + rng.normal(0, 12, (300, 3))
    ours = [delta_e(*a, *b) for a, b in zip(one, other, strict=True)]
    assert ours == pytest.approx(delta_e_2000(one, other), abs=1e-9)


def test_ciede2000_slopes_agree_with_differences():
    rng = np.random.default_rng(4)
    for _ in range(200):
        target = np.array([rng.uniform(5, 95), *rng.normal(0, 30, 2)])
        sample = target + rng.normal(0, 8, 3)
        grad, metric = np.empty(3), np.empty((3, 3))
        square = delta_e_slopes(*target, *sample, grad, metric)
        assert square == pytest.approx(delta_e(*target, *sample) ** 2, abs=1e-8)
        steps = np.eye(3) * 1e-5
        slopes = [
            (delta_e(*target, *(sample + d)) ** 2 - delta_e(*target, *(sample - d)) ** 2) / 4e-5
            for d in steps
        ]
        assert grad == pytest.approx(slopes, abs=1e-4 * (1 + np.abs(slopes).max()))


def test_grey_and_identical_colours_have_finite_slopes():
    grad, metric = np.empty(3), np.empty((3, 3))
    assert delta_e_slopes(50.0, 0.0, 0.0, 50.0, 0.0, 0.0, grad, metric) == 0.0
    assert np.isfinite(grad).all() and np.isfinite(metric).all()


@pytest.mark.parametrize("film", [None, 0.3])
def test_lab_slopes_of_a_mixture_agree_with_differences(problem, film):
    ready = prepare(problem(6, 7, [50, 0, 0], film_thickness=film, ground=0.9))
    b = np.array([0.5, 0.1, 0.1, 0.1, 0.1, 0.1])
    lab, J = np.empty(3), np.empty((3, 6))
    arguments = (ready.medium, ready.ground, ready.W, 0)
    lab_slopes(ready.K, ready.S, b, *arguments, lab, J)
    for i in range(6):
        moved = []
        for step in (1e-6, -1e-6):
            c, here = b.copy(), np.empty(3)
            c[i] += step
            lab_slopes(ready.K, ready.S, c, *arguments, here, np.empty((3, 6)))
            moved.append(here)
        assert J[:, i] == pytest.approx((moved[0] - moved[1]) / 2e-6, rel=1e-4, abs=1e-4)


def test_the_colour_of_a_mixture_is_that_of_the_colour_layer(problem):
    ready = prepare(problem(4, 8, [50, 10, 10]))
    shares = np.array([0.6, 0.2, 0.1, 0.1])
    lab = np.empty((1, 3))
    value = mixture_value(
        ready.K, ready.S, np.arange(4), shares, *ready.args, np.empty((3, 36)), lab
    )
    measured = measured_from_internal(opaque_reflectance(shares @ ready.K, shares @ ready.S))
    assert lab[0] == pytest.approx(lab_from_reflectance(measured), abs=1e-9)
    assert value == pytest.approx(float(delta_e_2000([50, 10, 10], lab[0])), abs=1e-9)


def test_the_spectral_objective_is_the_root_mean_square_difference(problem):
    goal = np.linspace(0.1, 0.6, 36)
    ready = prepare(problem(3, 9, None, target_reflectance=goal, objective="spectral"))
    shares = np.array([0.5, 0.3, 0.2])
    value = mixture_value(
        ready.K, ready.S, np.arange(3), shares, *ready.args, np.empty((3, 36)), np.empty((1, 3))
    )
    R = measured_from_internal(opaque_reflectance(shares @ ready.K, shares @ ready.S))
    assert value == pytest.approx(100 * np.sqrt(((R - goal) ** 2).mean()), abs=1e-9)
