"""What the sift rules out holds nothing better, though it works in single precision."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest

from tubewise.search import sift
from tubewise.search.ball import ball, safe_radius
from tubewise.search.kernels import reflectance
from tubewise.search.polish import polish
from tubewise.search.problem import prepare
from tubewise.search.sieve import sieve

f4 = np.float32


def ready_for(problem, corners, seed, spread, target, **wishes):
    """A problem whose paints are corner mixtures, near each other when `spread` is small."""
    rng = np.random.default_rng(seed)
    box = problem(10, seed, target)
    base = rng.dirichlet(np.full(10, 0.5))
    b = (1 - spread) * base + spread * rng.dirichlet(np.full(10, 0.3), corners)
    return prepare(replace(box, K=b @ box.K, S=b @ box.S, **wishes))


def table_for(ready, radius, size):
    one = ball(ready.target, radius, float(ready.medium[2]))
    return sieve(
        ready, one.A, one.centre, np.array([radius]), one.support[None], one.surface[None], size
    )


def reflectances(ready, amounts):
    """Reflectance (m, 36) of opaque mixtures of amounts (m, n) in units of strength."""
    R = np.empty((len(amounts), 36))
    K, S = ready.K * ready.unit[:, None], ready.S * ready.unit[:, None]
    for r, b in enumerate(amounts):
        reflectance(b @ K, b @ S, ready.medium, ready.ground, R[r])
    return R


def scores_of(table, foot_shares, omega, bound):
    """The four first paints' scores beyond a plane, from a foot with shares (4,)."""
    X = table.pool[0]
    foot = np.zeros((3, sift.WIDE), f4)
    sift.put_foot(X, 0, 1, 2, 3, *foot_shares.astype(f4), table.surface, foot)
    weights, scores = np.zeros(sift.WIDE, f4), np.zeros(4, f4)
    weights[:36] = omega
    least = sift.score(X, 0, 1, 2, 3, weights, f4(bound), foot, scores)
    assert least == scores.min()
    return scores.astype(float)


@pytest.mark.parametrize("spread", [1.0, 0.3, 0.03])
def test_every_mixture_lies_beyond_the_plane_by_the_average_score(problem, spread):
    """The average is over shares of S, and so is what the shrinking of regions relies on."""
    rng = np.random.default_rng(7)
    close = 0
    for seed in range(60):
        ready = ready_for(problem, 4, seed, spread, [50, 0, 0])
        table = table_for(ready, 3.0, 4)
        omega = rng.normal(0, 30, 3) @ ready.W[0]
        slack = float(sift.SLACK) * np.abs(omega).sum()
        b = rng.dirichlet(np.full(4, 0.4), 200)
        R = reflectances(ready, b)
        least = float((R @ omega).min())
        scores = scores_of(table, rng.dirichlet(np.ones(4)), omega, least)
        shares = b * (ready.S * ready.unit[:, None]).mean(axis=1)
        shares /= shares.sum(axis=1, keepdims=True)
        assert (R @ omega - least >= shares @ scores - slack).all()
        close += (R @ omega - least < shares @ scores + 2.0).any()
    assert close > 20


def in_double_precision(table, foot_shares, omega, bound):
    """`sift.score` again, in NumPy and double precision."""
    K, S = (table.pool[0][:4, field, :36].astype(float) for field in (sift.K_, sift.S_))
    k2c, gain, base = table.surface.astype(float)
    N = S / S.mean(axis=1, keepdims=True)
    q = K / S

    def rho(q):
        return base + gain / (q + k2c + np.sqrt(q * (q + 2.0)))

    foot = (foot_shares @ (N * q)) / (foot_shares @ N)
    root = np.sqrt(foot * (foot + 2.0))
    slope = -gain / (foot + k2c + root) ** 2 * (1.0 + (foot + 1.0) / root)
    excess = np.where(omega > 0, omega * slope * (q - foot), omega * (rho(q) - rho(foot)))
    g = N[:, None] / N  # corner over each other corner
    worst = np.minimum(g.min(axis=1) * excess, g.max(axis=1) * excess)
    return omega @ rho(foot) - bound + worst.sum(axis=1)


def test_rounding_stays_below_the_slack(problem):
    rng = np.random.default_rng(8)
    for seed in range(60):
        ready = ready_for(problem, 4, seed, float(rng.choice([1.0, 0.1])), [40, 20, 20])
        table = table_for(ready, 3.0, 4)
        omega = rng.normal(0, 50, 3) @ ready.W[0]
        foot = rng.dirichlet(np.ones(4))
        single = scores_of(table, foot, omega, 5.0)
        double = in_double_precision(table, foot, omega, 5.0)
        # Scores far below zero rule nothing out; there rounding counts in proportion.
        slack = float(sift.SLACK) * np.abs(omega).sum() + 1e-6 * np.abs(np.minimum(double, 0.0))
        assert (np.abs(single - double) <= slack).all()


def stays_open(ready, rows, radius):
    """Whether the sift leaves a set open under a ball."""
    k = len(rows)
    table = table_for(ready, radius, k)
    still = np.zeros(1, bool)
    sift.sift_sets(
        np.array([rows]),
        0.0,
        np.zeros(len(ready.K)),
        len(ready.K),
        table.own_pool(),
        *table.tables,
        2000,
        0.0,
        (ready.K[:0], ready.S, ready.unit, *ready.args),
        np.array([radius]),
        np.zeros(4),
        np.empty(k, np.int64),
        np.empty(k),
        still,
    )
    return bool(still[0])


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
        safe = 0.98 * safe_radius(ready.target)
        K, S = ready.K * ready.unit[:, None], ready.S * ready.unit[:, None]
        for rows in list(combinations(range(6), k))[::4]:
            picked = list(rows)
            Kv, Sv = np.ascontiguousarray(K[picked]), np.ascontiguousarray(S[picked])
            starts = rng.dirichlet(np.ones(k), 6)
            least = min(polish(Kv, Sv, b, *ready.args, 60) for b in starts)
            if not 0.3 < least < 0.8 * safe:
                continue
            tried += 1
            assert stays_open(ready, rows, least * (1.0 + 10.0 ** rng.uniform(-3.0, -0.7)))
            out += not stays_open(ready, rows, 0.9 * least)
    assert tried > 20
    if len(lights) == 1:
        assert out > 0.9 * tried


def test_shares_with_an_average_score_of_zero_or_less_stay_in_the_region(problem):
    rng = np.random.default_rng(10)
    shrunk = 0
    for seed in range(40):
        ready = ready_for(problem, 4, seed, 0.6, [50, 0, 0])
        table = table_for(ready, 3.0, 4)
        pool = table.own_pool()
        nodes, depth = np.zeros((4, 4), np.int64), np.zeros(4, np.int64)
        nodes[0] = range(4)
        scores = np.array([-rng.uniform(0.1, 1), *rng.uniform(0.1, 3, 3)], f4)
        added = sift.divide(
            0,
            depth,
            4,
            True,
            nodes,
            *pool,
            table.surface,
            table.whiten,
            np.zeros(sift.WIDE, f4),
            scores,
            4,
        )
        if added != 1:
            continue
        shrunk += 1
        # Corners as shares of S among the paints: solve for a mixture's shares of the corners.
        KS = np.concatenate(
            [pool[0][:, sift.Q_, :36] * pool[0][:, sift.N_, :36], pool[0][:, sift.N_, :36]], axis=1
        ).astype(float)
        corner = np.linalg.lstsq(KS[:4].T, KS[nodes[0]].T, rcond=None)[0]
        b = rng.dirichlet(np.full(4, 0.5), 2000)
        b = b[b @ scores <= 0.0]
        assert len(b) > 5
        assert (np.linalg.solve(corner, b.T) >= -1e-5).all()
    assert shrunk > 20
