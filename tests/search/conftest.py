"""Random boxes of paint for the search's tests: a few absorption bands, some scattering each."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from numpy.typing import NDArray

from tubewise.colour.lights import weights, white_xyz
from tubewise.search.compiled import ready
from tubewise.search.problem import SearchProblem

Floats = NDArray[np.float64]
NM = np.arange(380.0, 740.0, 10.0)


def random_paints(n: int, seed: int) -> tuple[Floats, Floats]:
    """K, S (n, 36): a white first, then transparent, middling and opaque colours at random."""
    rng = np.random.default_rng(seed)
    K, S = np.empty((n, 36)), np.empty((n, 36))
    for i in range(n):
        if i == 0:
            K[i] = 0.001 + 0.03 * np.exp(-(((NM - 370) / 20) ** 2))
            S[i] = (560 / NM) ** 0.4
            continue
        bands = 0.01 * np.ones(36)
        for _ in range(rng.integers(1, 4)):
            centre, width = rng.uniform(380, 720), rng.uniform(25, 70)
            bands += np.exp(-(((NM - centre) / width) ** 2)) * rng.lognormal(0, 0.7)
        K[i] = bands * rng.lognormal(1.5, 1.0)
        S[i] = rng.choice([0.03, 0.1, 0.3, 0.6]) * (560 / NM) ** rng.uniform(-0.5, 2.0)
    return K, S


@pytest.fixture(scope="session", autouse=True)
def compiled() -> None:
    """Compile the proof's kernels before a test's time limit for proving can run out on that."""
    ready()


@pytest.fixture
def problem() -> Callable[..., SearchProblem]:
    """Make a problem under D65 (or `lights`) from a random box of `n` paints."""

    def make(
        n: int, seed: int, target: object, *, lights: tuple[str, ...] = ("D65",), **wishes: object
    ) -> SearchProblem:
        K, S = random_paints(n, seed)
        asked: dict[str, object] = {
            "K": K,
            "S": S,
            "weights": np.stack([weights(light) for light in lights]),
            "whites": np.stack([white_xyz(light) for light in lights]),
            "target_lab": target,
        }
        return SearchProblem(**(asked | wishes))  # type: ignore[arg-type]

    return make
