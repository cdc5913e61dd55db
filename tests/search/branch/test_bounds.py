"""Every region that is ruled out really holds nothing better: checked on random regions."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.search.balls import balls_of
from tubewise.search.branch.bounds import beyond, film_bounds
from tubewise.search.branch.vertices import Vertices, place
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.reflectance import reflectance
from tubewise.search.prepared import prepare


def vertices_near(ready, k, rng, spread):
    """K and S (k, 36) of mixtures of the box, near each other when `spread` is small."""
    base = rng.dirichlet(np.full(len(ready.paints.K), 0.5))
    b = (1 - spread) * base + spread * rng.dirichlet(np.full(len(ready.paints.K), 0.3), k)
    return b @ (ready.paints.K * ready.paints.unit[:, None]), b @ (
        ready.paints.S * ready.paints.unit[:, None]
    )


@pytest.mark.slow
@pytest.mark.parametrize("spread", [1.0, 0.3, 0.03])
def test_a_plane_that_clears_a_region_clears_every_mixture_in_it(problem, spread):
    rng = np.random.default_rng(5)
    ready = prepare(problem(10, 5, [50, 0, 0]))
    balls = balls_of(ready, [5.0])
    cleared = 0
    for _ in range(400):
        k = int(rng.integers(2, 5))
        PK, PS = vertices_near(ready, k, rng, spread)
        N, q, H, slope = (np.zeros((k, BANDS)) for _ in range(4))
        vertices = Vertices(PK, PS, N, q, H, slope, np.zeros((k, 1, 3)))
        for row in range(k):
            place(row, vertices, ready.film, ready.aim.W, balls)
        omega = rng.normal(0, 1, 3) @ ready.aim.W[0]
        inside = rng.dirichlet(np.full(k, 0.4), 200)
        R = np.empty((200, BANDS))
        for r, b in enumerate(inside):
            reflectance(b @ PK, b @ PS, ready.film, R[r])
        true_least = (R @ omega).min()
        # Offer planes from far below to just above the least value met.
        for bound in true_least - np.array([2.0, 0.5, 0.1, 0.02, 0.002, -1e-9]):
            margins = H @ omega - bound
            clearance = beyond(np.arange(k), margins, omega, vertices)
            if clearance > 0:
                cleared += 1
                assert true_least > bound
                assert (R @ omega >= bound + clearance * (1 - 1e-9) - 1e-12).all()
    assert cleared > 100


def test_a_film_lies_between_its_bounds(problem):
    rng = np.random.default_rng(6)
    ready = prepare(problem(8, 6, [50, 0, 0], film_thickness=0.4, ground=0.5))
    for _ in range(50):
        PK, PS = vertices_near(ready, 3, rng, 0.5)
        middle, half = np.empty(BANDS), np.empty(BANDS)
        vertices = Vertices(PK, PS, PK, PK, PK, PK, np.zeros((3, 1, 3)))
        film_bounds(np.arange(3), vertices, ready.film, np.empty((4, BANDS)), middle, half)
        R = np.empty(BANDS)
        for b in rng.dirichlet(np.ones(3), 30):
            reflectance(b @ PK, b @ PS, ready.film, R)
            assert (np.abs(R - middle) <= half + 1e-12).all()
