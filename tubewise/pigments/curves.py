"""Curves of absorption and scattering from few numbers: bands, edges, a floor, a power, a peak.

Organic pigments and transition-metal oxides absorb in bands, which are near Gaussian in
wavenumber; band-gap pigments (cadmiums, vanadate, iron oxides) and crystalline azo yellows absorb
everything short of an edge, and their absorption fades exponentially past it (Urbach, Phys. Rev.
92, 1953), which is a sigmoid. What is left everywhere is a floor. Scattering falls with
wavelength as a power. On the short side of a strong absorption the refractive index dips and
scattering is weaker; just past the edge the index is at its highest, and scattering peaks there and
falls back within some tens of nanometres (anomalous dispersion).
"""

from __future__ import annotations

import numpy as np

from tubewise.colour.arrays import Floats

REFERENCE_NM = 560.0
# Layout of the scattering parameters in the last axis.
LEVEL, SLOPE, STEP_NM, STEP_WIDTH, BELOW, BRONZE, PEAK, PEAK_NM = range(8)
N_SCATTER = 8


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
    """S: scatter (..., 8) of level, power, step nm, width nm, share below, bronze, peak, fade nm.

    Returns (..., n). Level is S at 560 nm far past the step. A share below of 1 and a peak of 0
    mean that there is no step. The peak is added to the level just past the step and fades by e
    every `fade` nm. Bronze is the part of K (..., n) sent back: strong absorbers reflect in
    their own bands like a metal, and no film is so smooth that its instrument sees none of its
    skin, which keeps masstones from the black the theory would give them.
    """
    level, power, step, width, below, bronze, peak, fade = (
        scatter[..., i, None] for i in range(N_SCATTER)
    )
    x = np.clip((wavelengths_nm - step) / width, -50.0, 50.0)
    past = 1.0 / (1.0 + np.exp(-x))
    fading = np.exp(-np.maximum(wavelengths_nm - step, 0.0) / fade)
    rise = below + (1.0 - below) * past + peak * past * fading
    return np.asarray(level * (wavelengths_nm / REFERENCE_NM) ** -power * rise + bronze * K)
