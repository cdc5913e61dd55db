"""Films of paint: opaque, and finite over a ground (Kubelka & Munk 1931; Kubelka 1948).

K and S are absorption and scattering per unit thickness X, in the unit in which titanium white
has S = 1 at 560 nm; only the products K X and S X matter. Reflectances here are those inside the
film; `tubewise.optics.surface` turns them into what an instrument reads.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.optics.surface import GLOSS, Surface, internal_from_measured

# Films as the trade lays them (common practice, no source). A drawdown is drawn with a gap of 150
# micrometres; acrylic dries to about half of that. In our unit it is 50, so one unit is 3
# micrometres of wet paint. Then titanium white hides (contrast ratio 0.99 over the card below), and
# the paints that the trade calls opaque nearly do, by their published scattering; Mie's theory for
# rutile of 0.22 micrometres at an artist's load agrees within a factor of 1.5. A thin film is what
# a knife leaves when paint is scraped until the card shows through: a twentieth of the drawdown,
# 4 micrometres dry.
DRAWDOWN_FILM = 50.0
DRAWDOWN_WET_UM = 150.0
MICRONS_PER_UNIT = DRAWDOWN_WET_UM / DRAWDOWN_FILM
THIN_FILM = DRAWDOWN_FILM / 20.0

# What the card under a drawdown reads, specular included: its white 80 %, its black at most 5 %
# (ASTM D2805, ISO 6504-3); a smooth black reads hardly more than its gloss.
WHITE_CARD_READS = 0.80
BLACK_CARD_READS = 0.037


def card(reads: float, surface: Surface = GLOSS) -> float:
    """Reflectance that a ground shows to a film on it, 0-1, of a card that reads `reads`, 0-1.

    Paint wets the card, so that the skin between card and air is gone: a card that reads 80 % shows
    0.917. Raises ValueError for a reading outside 0 to 1.
    """
    if not 0.0 <= reads <= 1.0:
        raise ValueError(f"a card reads between 0 and 1, not {reads}")
    return float(internal_from_measured(reads, surface))


WHITE_GROUND = card(WHITE_CARD_READS)
BLACK_GROUND = card(BLACK_CARD_READS)


def ks_ratio(R: ArrayLike) -> Floats:
    """K/S of an opaque film from its internal reflectance R in (0, 1]: (1-R)^2 / 2R.

    Kubelka & Munk, Z. tech. Physik 12, 1931. R = 0 gives infinity.
    """
    R = np.asarray(R, dtype=np.float64)
    with np.errstate(divide="ignore"):
        return np.asarray((1.0 - R) ** 2 / (2.0 * R))


def opaque_reflectance(K: ArrayLike, S: ArrayLike) -> Floats:
    """Internal reflectance of a film so thick that its ground does not show, in [0, 1].

    K, S >= 0, broadcast together. Equal to 1 + K/S - sqrt((K/S)^2 + 2 K/S), in the form that
    loses no digits when S is small; 0 where both are 0 (an endless clear layer returns nothing).
    """
    K = np.asarray(K, dtype=np.float64)
    S = np.asarray(S, dtype=np.float64)
    total = K + S + np.sqrt(K * (K + 2.0 * S))
    R = np.divide(S, total, out=np.zeros(np.broadcast(K, S).shape), where=total > 0.0)
    return np.asarray(R)


def _attenuation(K: Floats, S: Floats, X: Floats) -> Floats:
    """T = tanh(alpha X)/alpha with alpha = sqrt(K(K + 2S)); it is X itself as alpha -> 0."""
    alpha = np.sqrt(K * (K + 2.0 * S))
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        u = alpha * X
        t = np.where(u > 1e-4, np.tanh(u) / alpha, X * (1.0 - u * u / 3.0))
    return np.asarray(t)


def _over_ground(K: Floats, S: Floats, t: Floats, Rg: Floats) -> tuple[Floats, Floats]:
    """Kubelka's R of a film over a ground as a fraction N / D."""
    return S * t + Rg * (1.0 - (K + S) * t), 1.0 + (K + S - Rg * S) * t


def film_reflectance(K: ArrayLike, S: ArrayLike, X: ArrayLike, Rg: ArrayLike) -> Floats:
    """Internal reflectance of a film of thickness X >= 0 over a ground of reflectance Rg.

    All arguments broadcast; X may be infinite. Kubelka's hyperbolic solution (J. Opt. Soc. Am.
    38, 1948) multiplied through by S t, t = tanh(alpha X)/alpha, which keeps it exact for a film
    that only scatters (K = 0), only absorbs (S = 0), or is not there (X = 0).
    """
    K, S, X, Rg = np.broadcast_arrays(
        *(np.asarray(v, dtype=np.float64) for v in (K, S, X, Rg)), subok=False
    )
    endless = ~np.isfinite(X)
    N, D = _over_ground(K, S, _attenuation(K, S, np.where(endless, 0.0, X)), Rg)
    R = N / D
    # Rounding can leave a black film at -1e-17.
    R = np.clip(R, 0.0, 1.0)
    if endless.any():
        nothing = (K == 0.0) & (S == 0.0)
        R = np.where(endless, np.where(nothing, Rg, opaque_reflectance(K, S)), R)
    return np.asarray(R)


def film_slopes(K: Floats, S: Floats, X: Floats, Rg: Floats) -> tuple[Floats, Floats, Floats]:
    """`film_reflectance` of a film with K, S > 0, and its derivatives by K and by S.

    All arguments broadcast; X may be infinite.
    """
    square = K * (K + 2.0 * S)
    alpha = np.sqrt(square)
    finite = np.isfinite(X)
    # With tau, d t / d square: dt/dK = 2 (K + S) tau and dt/dS = 2 K tau.
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
    N, D = _over_ground(K, S, t, Rg)
    R = N / D
    bend = 2.0 * tau * (S - Rg * (K + S) - R * (K + S - Rg * S))
    by_K = (-Rg * t - R * t + bend * (K + S)) / D
    by_S = ((1.0 - Rg) * (1.0 - R) * t + bend * K) / D
    return R, by_K, by_S
