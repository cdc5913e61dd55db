"""Every region that is ruled out really holds nothing better: checked on random regions."""

from __future__ import annotations

import numpy as np
import pytest

from tubewise.search.branch import (
    beyond,
    count_parts,
    film_errors,
    place,
    try_parts,
)
from tubewise.search.kernels import BANDS, reflectance
from tubewise.search.problem import prepare


def _corners(ready, k, rng, spread):
    """K corner mixtures of the box, near each other when `spread` is small."""
    base = rng.dirichlet(np.full(len(ready.K), 0.5))
    b = (1 - spread) * base + spread * rng.dirichlet(np.full(len(ready.K), 0.3), k)
    return b @ (ready.K * ready.unit[:, None]), b @ (ready.S * ready.unit[:, None])


@pytest.mark.parametrize("spread", [1.0, 0.3, 0.03])
def test_a_plane_that_clears_a_region_clears_every_mixture_in_it(problem, spread):
    rng = np.random.default_rng(5)
    ready = prepare(problem(10, 5, [50, 0, 0]))
    A, centre = np.eye(3)[None], np.zeros((1, 3))
    cleared = 0
    for _ in range(400):
        k = int(rng.integers(2, 5))
        PK, PS = _corners(ready, k, rng, spread)
        arrays = [np.zeros((k, BANDS)) for _ in range(4)]
        N, H, Q, M = arrays
        T = np.zeros((k, 1, 3))
        for q in range(k):
            place(q, PK, PS, N, H, Q, M, T, ready.medium, ready.ground, ready.W, A, centre)
        omega = rng.normal(0, 1, 3) @ ready.W[0]
        inside = rng.dirichlet(np.full(k, 0.4), 200)
        R = np.empty((200, BANDS))
        for r, b in enumerate(inside):
            reflectance(b @ PK, b @ PS, ready.medium, ready.ground, R[r])
        true_least = (R @ omega).min()
        # Offer planes from far below to just above the least value met.
        for bound in true_least - np.array([2.0, 0.5, 0.1, 0.02, 0.002, -1e-9]):
            margins = H @ omega - bound
            clearance = beyond(np.arange(k), margins, omega, Q, H, M, N)
            if clearance > 0:
                cleared += 1
                assert true_least > bound
                assert (R @ omega >= bound + clearance * (1 - 1e-9) - 1e-12).all()
    assert cleared > 100


def test_a_film_lies_between_its_bounds(problem):
    rng = np.random.default_rng(6)
    ready = prepare(problem(8, 6, [50, 0, 0], film_thickness=0.4, ground=0.5))
    for _ in range(50):
        PK, PS = _corners(ready, 3, rng, 0.5)
        middle, half = np.empty(BANDS), np.empty(BANDS)
        film_errors(
            np.arange(3), PK, PS, ready.medium, ready.ground, np.empty((4, BANDS)), middle, half
        )
        R = np.empty(BANDS)
        for b in rng.dirichlet(np.ones(3), 30):
            reflectance(b @ PK, b @ PS, ready.medium, ready.ground, R)
            assert (np.abs(R - middle) <= half + 1e-12).all()


def test_whole_parts_in_a_region_are_all_counted_and_tried(problem):
    ready = prepare(problem(3, 3, [50, 10, 10]))
    low, high = np.array([0.2, 0.1, 0.05]), np.array([0.6, 0.5, 0.5])
    fitting = [
        (a, b, c)
        for a in range(1, 11)
        for b in range(1, 11)
        for c in range(1, 11)
        if a + b + c <= 10
        and all(lo <= p / (a + b + c) <= hi for p, lo, hi in zip((a, b, c), low, high, strict=True))
    ]
    assert count_parts(low, high, 10, 10**6) >= len(fitting)
    best = np.ones(3, np.int64)
    value, _ = try_parts(
        ready.K,
        ready.S,
        np.arange(3),
        low,
        high,
        10,
        0.0,
        *ready.args,
        np.empty((3, 36)),
        np.empty((1, 3)),
        best,
    )
    from tubewise.search.parts import parts_value

    values = {
        parts: parts_value(
            ready.K,
            ready.S,
            np.arange(3),
            np.array(parts),
            *ready.args,
            np.empty((3, 36)),
            np.empty((1, 3)),
        )
        for parts in fitting
    }
    assert value == pytest.approx(min(values.values()), abs=1e-12)
