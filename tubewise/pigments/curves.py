"""Curves of absorption and scattering from a few numbers: bands, edges, a floor, a power law.

Organic pigments and transition-metal oxides absorb in bands, which are near Gaussian in
wavenumber; band-gap pigments (cadmiums, vanadate, iron oxides) and crystalline azo yellows absorb
everything short of an edge, and their absorption fades exponentially past it (Urbach, Phys. Rev.
92, 1953), which is a sigmoid. What is left everywhere is a floor. Scattering falls with
wavelength as a power, and is weaker on the short side of a strong absorption, where the
refractive index dips (anomalous dispersion).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

REFERENCE_NM = 560.0
# Layout of the scattering parameters in the last axis.
LEVEL, SLOPE, STEP_NM, STEP_WIDTH, BELOW, BRONZE = range(6)


def bands_sum(wavelengths_nm: Floats, bands: Floats) -> Floats:
    """Sum of Gaussians in wavenumber: (..., n_bands, 3) of centre nm, width nm, height -> (..., n).

    The width is one standard deviation, turned into wavenumber at the centre.
    """
    centre, width, height = (bands[..., i, None] for i in range(3))
    # nu - nu0 over sigma_nu, all in 1/nm: (1/l - 1/c) / (w/c^2).
    x = (centre / wavelengths_nm - 1.0) * centre / width
    return np.asarray((height * np.exp(-0.5 * x * x)).sum(axis=-2))


def edges_sum(wavelengths_nm: Floats, edges: Floats) -> Floats:
    """Sum of sigmoids: (..., n_edges, 3) of edge nm, decay nm, height -> (..., n)."""
    place, decay, height = (edges[..., i, None] for i in range(3))
    x = np.clip((wavelengths_nm - place) / decay, -50.0, 50.0)
    return np.asarray((height / (1.0 + np.exp(x))).sum(axis=-2))


def absorption(wavelengths_nm: Floats, bands: Floats, edges: Floats, floor: Floats) -> Floats:
    """K: bands (..., nb, 3), edges (..., ne, 3), floor (..., 2) of level at 560 nm and power.

    Returns (..., n). A positive power makes the floor fall with wavelength.
    """
    level, power = floor[..., 0, None], floor[..., 1, None]
    ground = level * (wavelengths_nm / REFERENCE_NM) ** -power
    return bands_sum(wavelengths_nm, bands) + edges_sum(wavelengths_nm, edges) + ground


def scattering(wavelengths_nm: Floats, scatter: Floats, K: Floats) -> Floats:
    """S: scatter (..., 6) of level, power, step nm, step width nm, share below the step, bronze.

    Returns (..., n). Level is S at 560 nm before the step; a share of 1 means no step. Bronze is
    the part of K (..., n) sent back: strong absorbers reflect in their own bands like a metal,
    which keeps their masstones from the black the theory would give them.
    """
    level, power, step, width, below, bronze = (scatter[..., i, None] for i in range(6))
    x = np.clip((wavelengths_nm - step) / width, -50.0, 50.0)
    rise = below + (1.0 - below) / (1.0 + np.exp(-x))
    return np.asarray(level * (wavelengths_nm / REFERENCE_NM) ** -power * rise + bronze * K)
