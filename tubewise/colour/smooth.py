"""The smoothest reflectance that has a given colour."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance


def smooth_reflectance(lab: ArrayLike) -> Floats:
    """A smooth reflectance (36,), in [0.005, 0.995], whose colour is nearest to `lab`.

    Least curvature of the logit subject to the colour (after the idea of smoothest-spectrum
    recovery; van Trigt, J. Opt. Soc. Am. A 7, 1990), by damped Gauss-Newton.
    """
    target = np.asarray(lab, dtype=np.float64)
    n = WAVELENGTHS_NM.size
    bend = np.diff(np.eye(n), 2, axis=0) * 3.0
    y = np.full(n, np.log(0.3 / 0.7))

    def reflect(y: Floats) -> Floats:
        return 0.005 + 0.99 / (1.0 + np.exp(-y))

    for _ in range(30):
        lab_now = lab_from_reflectance(reflect(y))
        J = (lab_from_reflectance(reflect(y + 1e-5 * np.eye(n))) - lab_now).T / 1e-5
        A = J.T @ J * 100.0 + bend.T @ bend + 1e-6 * np.eye(n)
        g = J.T @ (lab_now - target) * 100.0 + bend.T @ (bend @ y)
        step = np.linalg.solve(A, g)
        y = y - np.clip(step, -2.0, 2.0)
        if np.abs(step).max() < 1e-6:
            break
    return reflect(y)
