"""Tangent points lie on the ball, and planes through them hold it back."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_relative, relative_from_lab
from tubewise.search.balls import balls_of
from tubewise.search.branch.planes import outward, tangent_point
from tubewise.search.branch.tree import room_for
from tubewise.search.prepared import prepare

CASES = [((50.0, 20.0, 10.0), 3.0), ((30.0, 10.0, -40.0), 2.0), ((80.0, -30.0, 60.0), 6.0)]


def colours_outside(target, radius, count):
    """Ratios (count, 3) of colours somewhat farther from the target than the radius."""
    rng = np.random.default_rng(1)
    lab = np.array(target) + rng.normal(0, 1, (40 * count, 3)) * 3.0 * radius
    far = np.asarray(delta_e_2000(np.array(target), lab))
    return relative_from_lab(lab[(far > 1.1 * radius) & (far < 3.0 * radius)][:count])


@pytest.mark.parametrize(("target", "radius"), CASES)
def test_a_tangent_point_lies_on_the_ball_on_the_way_to_the_target(target, radius):
    for x in colours_outside(target, radius, 40):
        out = np.empty(3)
        assert tangent_point(np.array(target), radius, *x, out)
        lab = lab_from_relative(out)
        assert float(delta_e_2000(np.array(target), lab)) == pytest.approx(radius, abs=1e-5)
        way, whole = lab - np.array(target), lab_from_relative(x) - np.array(target)
        assert np.cross(way, whole) == pytest.approx(np.zeros(3), abs=1e-6 * radius * 100)


@pytest.mark.parametrize(("target", "radius"), CASES)
def test_there_is_no_tangent_point_from_within(target, radius):
    inside = relative_from_lab([target[0] + 0.3 * radius, *target[1:]])
    assert not tangent_point(np.array(target), radius, *inside, np.empty(3))


@pytest.mark.parametrize(("target", "radius"), CASES)
def test_ciede2000_grows_along_the_outward_normal(problem, target, radius):
    ready = prepare(problem(4, 1, list(target)))
    balls = balls_of(ready, [radius])
    planes = room_for(2, ready.film, balls).planes
    B = balls.inverse[0]
    for x in colours_outside(target, radius, 40):
        assert outward(np.array(target), *x, B, planes)
        assert np.linalg.norm(planes.normal) == pytest.approx(1.0)
        steps = [x + s * (B @ planes.normal) for s in (-1e-4, 1e-4)]
        less, more = (float(delta_e_2000(np.array(target), lab_from_relative(s))) for s in steps)
        assert more > less
