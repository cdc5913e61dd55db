"""The Gauss-Newton step on the simplex, against SciPy's quadratic programming."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import minimize

from tubewise.search.kernels.step import solve, step


def test_linear_equations_are_solved_as_numpy_solves_them():
    rng = np.random.default_rng(1)
    for n in range(1, 6):
        A, y = rng.normal(size=(n, n)), rng.normal(size=n)
        x = y.copy()
        solve(A.copy(), x, n)
        assert x == pytest.approx(np.linalg.solve(A, y), abs=1e-9)


@pytest.mark.parametrize("seed", range(20))
def test_a_step_is_feasible_and_lowers_the_model_nearly_as_far_as_can_be(seed):
    """Holding amounts at zero one by one isn't exact, but comes close."""
    rng = np.random.default_rng(seed)
    k = int(rng.integers(2, 5))
    root = rng.normal(size=(k, k))
    H, g, b = root @ root.T, rng.normal(size=k), rng.dirichlet(np.ones(k))

    def model(x):
        return g @ (x - b) + 0.5 * (x - b) @ H @ (x - b)

    d = np.empty(k)
    step(H, g, b, 1e-9, np.empty(k, bool), np.empty((k + 1, k + 1)), np.empty(k + 1), d)
    assert (b + d).sum() == pytest.approx(1.0, abs=1e-9) and (b + d >= -1e-12).all()
    best = minimize(
        model,
        b,
        jac=lambda x: g + H @ (x - b),
        method="SLSQP",
        bounds=[(0.0, 1.0)] * k,
        constraints=[{"type": "eq", "fun": lambda x: x.sum() - 1.0}],
    )
    assert model(b + d) <= 0.5 * best.fun + 1e-9
