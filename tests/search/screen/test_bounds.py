"""The screen's scores hold, though they are computed in single precision."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from tubewise.search.balls import balls_of
from tubewise.search.kernels.reflectance import reflectance
from tubewise.search.prepared import prepare
from tubewise.search.screen.bounds import put_tangent, score
from tubewise.search.screen.planes import SLACK
from tubewise.search.screen.tables import screen_for
from tubewise.search.screen.vertices import K_, S_, WIDE

f4 = np.float32


def prepared_near(problem, vertices, seed, spread, target):
    """A problem whose paints are mixtures of a box, near each other when `spread` is small."""
    rng = np.random.default_rng(seed)
    box = problem(10, seed, target)
    base = rng.dirichlet(np.full(10, 0.5))
    b = (1 - spread) * base + spread * rng.dirichlet(np.full(10, 0.3), vertices)
    return prepare(replace(box, K=b @ box.K, S=b @ box.S))


def screen_of(ready, radius, size):
    return screen_for(ready, balls_of(ready, [radius]), size)


def reflectances(ready, amounts):
    """Reflectance (m, 36) of opaque mixtures of amounts (m, n) in units of strength."""
    R = np.empty((len(amounts), 36))
    paints = ready.paints
    for r, b in enumerate(amounts * paints.unit):
        reflectance(b @ paints.K, b @ paints.S, ready.film, R[r])
    return R


def scores_of(screen, tangent_shares, omega, bound):
    """The four first paints' scores beyond a plane, from a tangent point with shares (4,)."""
    X, surface = screen.vertices.X, screen.tables.sight.surface
    tangent = np.zeros((3, WIDE), f4)
    put_tangent(0, 1, 2, 3, *tangent_shares.astype(f4), X, surface, tangent)
    weights, scores = np.zeros(WIDE, f4), np.zeros(4, f4)
    weights[:36] = omega
    least = score(0, 1, 2, 3, f4(bound), X, weights, tangent, scores)
    assert least == scores.min()
    return scores.astype(float)


@pytest.mark.slow
@pytest.mark.parametrize("spread", [1.0, 0.3, 0.03])
def test_every_mixture_lies_beyond_the_plane_by_the_average_score(problem, spread):
    """The average is over shares of S, and so is what the shrinking of regions relies on."""
    rng = np.random.default_rng(7)
    close = 0
    for seed in range(60):
        ready = prepared_near(problem, 4, seed, spread, [50, 0, 0])
        screen = screen_of(ready, 3.0, 4)
        omega = rng.normal(0, 30, 3) @ ready.aim.W[0]
        slack = float(SLACK) * np.abs(omega).sum()
        b = rng.dirichlet(np.full(4, 0.4), 200)
        R = reflectances(ready, b)
        least = float((R @ omega).min())
        scores = scores_of(screen, rng.dirichlet(np.ones(4)), omega, least)
        shares = b * (ready.paints.S * ready.paints.unit[:, None]).mean(axis=1)
        shares /= shares.sum(axis=1, keepdims=True)
        assert (R @ omega - least >= shares @ scores - slack).all()
        close += (R @ omega - least < shares @ scores + 2.0).any()
    assert close > 20


def in_double_precision(screen, tangent_shares, omega, bound):
    """`bounds.score` again, in NumPy and double precision."""
    K, S = (screen.vertices.X[:4, field, :36].astype(float) for field in (K_, S_))
    k2c, gain, base = screen.tables.sight.surface.astype(float)
    N = S / S.mean(axis=1, keepdims=True)
    q = K / S

    def rho(q):
        return base + gain / (q + k2c + np.sqrt(q * (q + 2.0)))

    tangent = (tangent_shares @ (N * q)) / (tangent_shares @ N)
    root = np.sqrt(tangent * (tangent + 2.0))
    slope = -gain / (tangent + k2c + root) ** 2 * (1.0 + (tangent + 1.0) / root)
    excess = np.where(omega > 0, omega * slope * (q - tangent), omega * (rho(q) - rho(tangent)))
    g = N[:, None] / N  # each vertex over each other
    worst = np.minimum(g.min(axis=1) * excess, g.max(axis=1) * excess)
    return omega @ rho(tangent) - bound + worst.sum(axis=1)


@pytest.mark.slow
def test_rounding_stays_below_the_slack(problem):
    rng = np.random.default_rng(8)
    for seed in range(60):
        ready = prepared_near(problem, 4, seed, float(rng.choice([1.0, 0.1])), [40, 20, 20])
        screen = screen_of(ready, 3.0, 4)
        omega = rng.normal(0, 50, 3) @ ready.aim.W[0]
        tangent = rng.dirichlet(np.ones(4))
        single = scores_of(screen, tangent, omega, 5.0)
        double = in_double_precision(screen, tangent, omega, 5.0)
        # Scores far below zero rule nothing out; there rounding counts in proportion.
        slack = float(SLACK) * np.abs(omega).sum() + 1e-6 * np.abs(np.minimum(double, 0.0))
        assert (np.abs(single - double) <= slack).all()
