"""What an instrument would read of a drawdown, and how that moves with the paint's K and S."""

from __future__ import annotations

from tubewise.colour.arrays import Floats
from tubewise.optics.film import film_reflectance, film_slopes
from tubewise.optics.surface import Surface, measured_from_internal, reading_slope


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
    arguments broadcast.
    """
    K_mix = share * K + (1.0 - share) * K_white
    S_mix = share * S + (1.0 - share) * S_white
    return measured_from_internal(film_reflectance(K_mix, S_mix, X, Rg), surface)


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
    K_mix = share * K + (1.0 - share) * K_white
    S_mix = share * S + (1.0 - share) * S_white
    R, by_K, by_S = film_slopes(K_mix, S_mix, X, Rg)
    gain = reading_slope(R, surface) * share
    return measured_from_internal(R, surface), gain * K * by_K, gain * S * by_S
