"""Paints whose K and S are known, and drawdowns of them with or without an instrument's errors."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.measure.spectra import Conditions, Spectra, Spectrum
from tubewise.optics.film import film_reflectance, opaque_reflectance
from tubewise.optics.mixture import mix
from tubewise.optics.surface import GLOSS, Surface, measured_from_internal

Floats = NDArray[np.float64]
_CM = 1e7 / WAVELENGTHS_NM


@dataclass(frozen=True, slots=True, eq=False)
class Known:
    """A paint of known K and S (36,)."""

    K: Floats
    S: Floats


def white() -> Known:
    """A white that absorbs the violet as titanium white does."""
    S = (560.0 / WAVELENGTHS_NM) ** 0.9
    return Known(0.001 + 3.0 * np.exp(-(((WAVELENGTHS_NM - 370.0) / 14.0) ** 2)), S)


def paint(rng: np.random.Generator) -> Known:
    """A paint with one or two absorption bands, from opaque to transparent, weak to strong."""
    K = np.full(36, 10.0 ** rng.uniform(-2.5, -1.0))
    for _ in range(rng.integers(1, 3)):
        centre, width = 1e7 / rng.uniform(400.0, 680.0), rng.uniform(1000.0, 3500.0)
        K = K + 10.0 ** rng.uniform(-0.5, 1.3) * np.exp(-(((_CM - centre) / width) ** 2))
    S = 10.0 ** rng.uniform(-1.7, -0.1) * (560.0 / WAVELENGTHS_NM) ** rng.uniform(0.0, 2.0)
    return Known(K, S)


def film(
    p: Known,
    white_parts: float = 0.0,
    X: float = np.inf,
    ground: float = 0.8,
    surface: Surface = GLOSS,
) -> Floats:
    """What an instrument reads of one part of a paint in `white_parts` of white."""
    w = white()
    K, S = mix(np.stack([p.K, w.K]), np.stack([p.S, w.S]), [1.0, white_parts])
    return measured_from_internal(film_reflectance(K, S, X, ground), surface)


def spectrum(
    name: str, R: Floats, *, specular: str = "included", wavelengths: Floats = WAVELENGTHS_NM
) -> Spectrum:
    """A reading as a file would give it."""
    return Spectrum(
        name,
        tuple(float(v) for v in wavelengths),
        tuple(float(v) for v in R),
        f"{name}.csv",
        Conditions(specular=specular),
    )


def files(rows: Sequence[tuple[str, Floats]], **how: str) -> list[Spectra]:
    """One file of readings."""
    return [Spectra(tuple(spectrum(name, R, **how) for name, R in rows))]  # type: ignore[arg-type]


def masstone_and_tints(
    p: Known,
    ratios: Sequence[float] = (1, 2, 4, 8, 16, 32),
    rng: np.random.Generator | None = None,
    noise: float = 0.0,
    parts_error: float = 0.0,
) -> list[tuple[str, Floats]]:
    """A masstone and tints, with an instrument's noise and a painter's error in the parts."""
    rng = rng or np.random.default_rng(0)
    rows = [("masstone", film(p))]
    for n in ratios:
        rows.append((f"tint 1:{n:g}", film(p, n * np.exp(parts_error * rng.standard_normal()))))
    return [(name, R + noise * rng.standard_normal(R.shape)) for name, R in rows]


def lab_of_mixture(paints: Sequence[Known], parts: Sequence[float]) -> Floats:
    """CIELAB of an opaque mixture."""
    K, S = mix(np.stack([p.K for p in paints]), np.stack([p.S for p in paints]), parts)
    return lab_from_reflectance(measured_from_internal(opaque_reflectance(K, S)))
