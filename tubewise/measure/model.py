"""What an instrument would read of a drawdown, and how that moves with the paint's K and S."""

from __future__ import annotations

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.optics.surface import Surface


def readings_of(
    K: Floats,
    S: Floats,
    share: Floats,
    K_white: Floats,
    S_white: Floats,
    X: Floats,
    Rg: Floats,
    surface: Surface,
) -> Floats:
    """Reflectance as read, of paint K, S > 0 taking `share` of a mixture with white.

    X is the film's thickness (infinite: opaque), Rg the ground's internal reflectance. All
    arguments broadcast. Kubelka 1948 and Saunderson 1942, as in `tubewise.optics`.
    """
    return _read(K, S, share, K_white, S_white, X, Rg, surface)[0]


def readings_and_slopes(
    K: Floats,
    S: Floats,
    share: Floats,
    K_white: Floats,
    S_white: Floats,
    X: Floats,
    Rg: Floats,
    surface: Surface,
) -> tuple[Floats, Floats, Floats]:
    """`readings_of`, and its derivatives by ln K and by ln S, all of the broadcast shape."""
    R_m, N, D, parts = _read(K, S, share, K_white, S_white, X, Rg, surface)
    Km, Sm, t, tau, Rg = parts
    # N = S t + Rg (1 - (K+S) t), D = 1 + (K+S-Rg S) t, with dt/dK = 2 (K+S) tau, dt/dS = 2 K tau.
    R = N / D
    n_t = Sm - Rg * (Km + Sm)
    d_t = Km + Sm - Rg * Sm
    bend = 2.0 * (n_t - R * d_t) * tau
    R_K = (-Rg * t - R * t + bend * (Km + Sm)) / D
    R_S = ((1.0 - Rg) * t - R * (1.0 - Rg) * t + bend * Km) / D
    gain = (1.0 - surface.k1) * (1.0 - surface.k2) / (1.0 - surface.k2 * R) ** 2 * share
    return R_m, gain * K * R_K, gain * S * R_S


def _read(
    K: Floats,
    S: Floats,
    share: Floats,
    K_white: Floats,
    S_white: Floats,
    X: Floats,
    Rg: Floats,
    surface: Surface,
) -> tuple[Floats, Floats, Floats, tuple[Floats, Floats, Floats, Floats, Floats]]:
    Km = share * K + (1.0 - share) * K_white
    Sm = share * S + (1.0 - share) * S_white
    square = Km * (Km + 2.0 * Sm)
    alpha = np.sqrt(square)
    finite = np.isfinite(X)
    if finite.any():
        thick = np.where(finite, X, 0.0)
        u = alpha * thick
        th = np.where(finite, np.tanh(u), 1.0)
        t = th / alpha
        # (X sech^2 - t) / 2 alpha^2 loses its digits in very thin clear films; its limit doesn't.
        tau = np.where(
            (u < 1e-3) & finite,
            -(thick**3) / 3.0,
            (thick * (1.0 - th * th) - t) / (2.0 * square),
        )
        # Under an endless film the ground is nothing to the reading.
        Rg = np.where(finite, Rg, 0.0)
    else:
        t = 1.0 / alpha
        tau = -0.5 * t / square
        Rg = np.zeros(1)
    N = Sm * t + Rg * (1.0 - (Km + Sm) * t)
    D = 1.0 + (Km + Sm - Rg * Sm) * t
    R = N / D
    R_m = (1.0 - surface.k1) * (1.0 - surface.k2) * R / (1.0 - surface.k2 * R)
    if surface.specular_included:
        R_m = R_m + surface.k1
    return R_m, N, D, (Km, Sm, t, tau, Rg)
