"""How a white pigment's scattering goes with wavelength, by Mie's theory of spheres.

Bohren & Huffman, Absorption and Scattering of Light by Small Particles (1983), from memory; the
series is summed by SciPy's spherical Bessel functions. Kubelka and Munk's S is three quarters of
the scattering coefficient times 1 - g, g the mean cosine (from memory: diffusion theory).
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from scipy.special import spherical_jn, spherical_yn

from tubewise.colour.arrays import Floats

BINDER = 1.5


def rutile(microns: float) -> float:
    """Index of refraction of rutile, its two rays averaged: DeVore, J. Opt. Soc. Am. 41, 1951."""
    square = microns * microns
    ordinary = np.sqrt(5.913 + 0.2441 / (square - 0.0803))
    extraordinary = np.sqrt(7.197 + 0.3322 / (square - 0.0843))
    return float((2.0 * ordinary + extraordinary) / 3.0)


def zinc_oxide(microns: float) -> float:
    """Index of refraction of zinc oxide, ordinary ray: Bond, J. Appl. Phys. 36, 1965."""
    square = microns * microns
    return float(np.sqrt(2.81418 + 0.87968 * square / (square - 0.3042**2) - 0.00711 * square))


def efficiency(size: float, index: float) -> tuple[float, float]:
    """Scattering efficiency and mean cosine of a sphere.

    `size` is pi times diameter by wavelength in the medium, `index` the sphere's by the medium's.
    """
    n = int(size + 4.0 * size ** (1.0 / 3.0) + 4.0)
    k = np.arange(1, n + 1)

    def riccati(z: float, kind: Callable[..., Floats]) -> tuple[Floats, Floats]:
        return z * kind(k, z), kind(k, z) + z * kind(k, z, True)

    psi, d_psi = riccati(size, spherical_jn)
    inner, d_inner = riccati(index * size, spherical_jn)
    chi, d_chi = riccati(size, spherical_yn)
    xi, d_xi = psi + 1j * chi, d_psi + 1j * d_chi
    a = (index * inner * d_psi - psi * d_inner) / (index * inner * d_xi - xi * d_inner)
    b = (inner * d_psi - index * psi * d_inner) / (inner * d_xi - index * xi * d_inner)
    scattered = float(((2 * k + 1) * (abs(a) ** 2 + abs(b) ** 2)).sum() * 2.0 / size**2)
    j = k[:-1]
    forward = (
        j * (j + 2) / (j + 1) * (a[:-1] * a[1:].conj() + b[:-1] * b[1:].conj()).real
    ).sum() + ((2 * k + 1) / (k * (k + 1)) * (a * b.conj()).real).sum()
    return scattered, float(4.0 / size**2 * forward / scattered)


def scattering_power(
    nm: float, diameter: float, spread: float, index: Callable[[float], float]
) -> float:
    """Kubelka-Munk S of a dilute paint, per micrometre of film and unit share of volume.

    Spheres of median `diameter` in micrometres, lognormal with geometric standard deviation
    `spread`, in a binder of index 1.5.
    """
    microns = nm / 1000.0
    z = np.linspace(-2.5, 2.5, 21)
    section = volume = 0.0
    for d, weight in zip(diameter * spread**z, np.exp(-0.5 * z * z), strict=True):
        q, g = efficiency(np.pi * d * BINDER / microns, index(microns) / BINDER)
        section += weight * np.pi * d * d / 4.0 * q * (1.0 - g)
        volume += weight * np.pi * d**3 / 6.0
    return 0.75 * section / volume
