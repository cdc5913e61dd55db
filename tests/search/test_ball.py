"""The ball of better colours: its planes hold all of it back, and touch it."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import relative_from_lab
from tubewise.search.ball import (
    MARGIN,
    NORMALS,
    ball,
    pulled_up,
    reach,
)

CASES = [
    ((50, 20, 10), 0.5),
    ((50, 20, 10), 5.0),
    ((80, -30, 90), 8.0),
    ((50, 90, 10), 9.0),
    ((50, 1, 0), 10.0),
    ((30, 10, -60), 6.0),
    ((20, 5, -8), 2.0),
]


@pytest.mark.parametrize(("target", "radius"), CASES)
def test_no_colour_within_the_radius_lies_beyond_a_plane(target, radius):
    made = ball(np.array([target], dtype=float), radius, 0.03)
    rng = np.random.default_rng(0)
    lab = np.array(target) + rng.normal(0, 1, (40000, 3)) * radius * np.array([1, 2.5, 2.5])
    lab = lab[np.asarray(delta_e_2000(np.array(target, dtype=float), lab)) <= radius]
    x = relative_from_lab(lab)
    x = x[(x >= 0.03).all(axis=1)]
    assert len(x) > 500
    inside = (x - made.centre[0]) @ made.A[0].T
    assert ((inside @ NORMALS.T).max(axis=0) <= made.support[0]).all()


@pytest.mark.slow
@pytest.mark.parametrize(("target", "radius"), CASES)
def test_the_parabolas_are_within_the_margin_of_a_finer_grid(target, radius):
    """Rays six times as dense around each plane's touching point reach no farther."""
    from tubewise.search import ball as home

    centre = np.array(target, dtype=float)
    made = ball(centre[None], radius, 0.0)
    _, back, _ = home._whitening(centre)
    for u in NORMALS[::7]:
        grid, more = reach(made.surface[0], *u)
        i, j = divmod(int((made.surface[0] @ u).argmax()), home.LONGITUDES)
        polar = np.pi * (np.linspace(i - 1, i + 1, 13) + 0.5) / home.LATITUDES
        turn = 2 * np.pi * np.linspace(j - 1, j + 1, 13) / home.LONGITUDES
        p, t = (a.ravel() for a in np.meshgrid(polar, turn))
        rays = np.stack([np.cos(p), np.sin(p) * np.cos(t), np.sin(p) * np.sin(t)], axis=1) @ back.T
        low, high = np.zeros(len(rays)), np.full(len(rays), 6.0 * radius)
        for _ in range(45):
            middle = 0.5 * (low + high)
            within = np.asarray(delta_e_2000(centre, centre + middle[:, None] * rays)) <= radius
            low, high = np.where(within, middle, low), np.where(within, high, middle)
        surface = pulled_up(relative_from_lab(centre + low[:, None] * rays), 0.0)
        fine = ((surface - made.centre[0]) @ made.A[0].T @ u).max()
        assert fine <= grid + more + MARGIN * radius


def test_pulling_up_leaves_physical_colours_alone():
    x = np.linspace(-0.5, 1.0, 301)
    y = pulled_up(x, 0.03)
    assert y[x >= 0.03] == pytest.approx(x[x >= 0.03])
    assert (np.diff(y) >= 0).all() and y.min() > 0.0
