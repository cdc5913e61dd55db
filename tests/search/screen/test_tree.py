"""What the screen rules out holds nothing better, and shrunken regions keep what may be."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest

from tests.search.screen.test_bounds import prepared_near, screen_of
from tubewise.search.kernels.polish import polish
from tubewise.search.prepared import prepare
from tubewise.search.safe_radius import safe_radius
from tubewise.search.screen.tree import divide, room_for, screen_sets
from tubewise.search.screen.vertices import N_, Q_, f4
from tubewise.search.sweep import Rules, empty_report


def stays_open(ready, rows, radius):
    """Whether the screen leaves a set open under a ball, without looking for recipes itself."""
    screen = screen_of(ready, radius, len(rows))
    still = np.zeros(1, bool)
    screen_sets(
        np.array([rows]),
        Rules(0.0, ready.penalty, 0.0, 1, 0.0, 2000),
        ready.paints,
        ready.film,
        ready.aim,
        screen.vertices.copy(),
        screen.tables,
        room_for(screen.tables),
        np.array([radius]),
        empty_report(len(rows)),
        still,
    )
    return bool(still[0])


@pytest.mark.slow
@pytest.mark.parametrize("lights", [("D65",), ("D65", "A")])
def test_a_set_that_holds_something_better_stays_open(problem, lights):
    """Each set under balls a little larger and a little smaller than its own best."""
    rng = np.random.default_rng(9)
    out = tried = 0
    for seed in range(30):
        k = 2 + seed % 3
        target = np.tile(rng.normal([55, 0, 0], [15, 30, 30]), (len(lights), 1))
        ask = problem(6, seed, target, lights=lights, max_paints=k, objective="worst light")
        ready = prepare(ask)
        safe = 0.98 * safe_radius(ready.aim.lab)
        unit = ready.paints.unit[:, None]
        K, S = ready.paints.K * unit, ready.paints.S * unit
        for rows in list(combinations(range(6), k))[::4]:
            picked = list(rows)
            Kv, Sv = np.ascontiguousarray(K[picked]), np.ascontiguousarray(S[picked])
            starts = rng.dirichlet(np.ones(k), 6)
            least = min(polish(Kv, Sv, b, ready.film, ready.aim, 60) for b in starts)
            if not 0.3 < least < 0.8 * safe:
                continue
            tried += 1
            assert stays_open(ready, rows, least * (1.0 + 10.0 ** rng.uniform(-3.0, -0.7)))
            out += not stays_open(ready, rows, 0.9 * least)
    assert tried > 20
    if len(lights) == 1:
        assert out > 0.9 * tried


@pytest.mark.slow
def test_shares_with_an_average_score_of_zero_or_less_stay_in_the_region(problem):
    rng = np.random.default_rng(10)
    shrunk = 0
    for seed in range(40):
        ready = prepared_near(problem, 4, seed, 0.6, [50, 0, 0])
        screen = screen_of(ready, 3.0, 4)
        vertices, room = screen.vertices.copy(), room_for(screen.tables)
        room.nodes[0] = range(4)
        scores = np.array([-rng.uniform(0.1, 1), *rng.uniform(0.1, 3, 3)], f4)
        room.scores[:] = scores
        if divide(0, 4, True, 4, vertices, screen.tables, room) != 1:
            continue
        shrunk += 1
        # Vertices as shares of S among the paints: solve for a mixture's shares of the vertices.
        q, N = vertices.X[:, Q_, :36], vertices.X[:, N_, :36]
        both = np.concatenate([q * N, N], axis=1).astype(float)
        vertex = np.linalg.lstsq(both[:4].T, both[room.nodes[0]].T, rcond=None)[0]
        b = rng.dirichlet(np.full(4, 0.5), 2000)
        b = b[b @ scores <= 0.0]
        assert len(b) > 5
        assert (np.linalg.solve(vertex, b.T) >= -1e-5).all()
    assert shrunk > 20
