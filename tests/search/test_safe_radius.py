"""Within the safe radius CIEDE2000 hides nothing."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.colour.difference import delta_e_2000
from tubewise.search.safe_radius import safe_radius


def test_within_the_safe_radius_ciede2000_does_not_jump():
    rng = np.random.default_rng(1)
    for target in ((27.0, 75.0, 33.0), (50.0, 60.0, 5.0), (60.0, -50.0, -5.0)):
        safe = safe_radius(np.array([target]))
        assert 5 < safe < 40
        # Pairs of colours a hair apart, across the opposite hue: none within the radius differ.
        away = -np.array(target[1:]) / np.hypot(*target[1:])
        side = np.array([-away[1], away[0]])
        for chroma in rng.uniform(0.1, 60, 300):
            pair = [np.array([target[0], *(chroma * (away + s * side))]) for s in (-1e-6, 1e-6)]
            one, other = (float(delta_e_2000(np.array(target), p)) for p in pair)
            assert abs(one - other) < 2e-3 or min(one, other) >= 0.99 * safe


def test_greys_are_always_safe():
    assert safe_radius(np.array([[50.0, 0.0, 0.0]])) == np.inf


@pytest.mark.parametrize(
    "target", [(53.3, 75.0, -26.1), (42.0, -2.9, -16.1), (73.3, 71.0, -15.5), (40.0, 30.0, -60.0)]
)
def test_no_colour_nearer_than_the_safe_radius_hides_behind_a_rise(target):
    """Of blues and purples, CIEDE2000 dips again across grey."""
    here = np.array(target)
    safe = safe_radius(here[None])
    rng = np.random.default_rng(3)
    near = np.concatenate(
        [
            here + rng.normal(0, 1, (4000, 3)) * [8.0, 40.0, 40.0],
            [here[0], 0, 0] + rng.normal(0, 1, (4000, 3)) * [4.0, 6.0, 6.0],
        ]
    )
    near = near[np.asarray(delta_e_2000(here, near)) < 0.98 * safe]
    assert len(near) > 300
    way = np.linspace(0.0, 1.0, 200)[:, None, None] * (near - here) + here
    e = np.asarray(delta_e_2000(here, way))
    # On the straight line to a colour that is near enough nothing is farther than 0.98 of safe.
    assert (e.max(axis=0) < safe).all()
