"""What the pictures for docs/physics.md share: mixtures seen, and their axes."""

from __future__ import annotations

import numpy as np

from tools.pictures.drawing import (
    Axes,
)
from tubewise.colour.arrays import Floats
from tubewise.colour.hexes import hex_from_lab
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import (
    opaque_reflectance,
)
from tubewise.optics.mixture import mix
from tubewise.optics.surface import (
    GLOSS,
    Surface,
    measured_from_internal,
)
from tubewise.pigments.models import optics

WIDTH = 760
Part = tuple[str, float]


def paint(*parts: Part) -> tuple[Floats, Floats]:
    """K and S (36,) of a mixture, its parts as (pigment, parts by volume)."""
    found = [optics(ref) for ref, _ in parts]
    return mix(
        np.stack([o.K for o in found]), np.stack([o.S for o in found]), [n for _, n in parts]
    )


def seen(K: Floats, S: Floats, surface: Surface = GLOSS) -> Floats:
    """Reflectance of the opaque film as an instrument reads it."""
    return measured_from_internal(opaque_reflectance(K, S), surface)


def hex_of(R: Floats) -> str:
    """Its screen colour."""
    return hex_from_lab(lab_from_reflectance(R))


def joined(*parts: Part) -> str:
    """A mixture in words: `1 PV19/gamma + 4 PW6`."""
    return " + ".join(f"{n:g} {ref}" for ref, n in parts)


def wavelengths(x: float, y: float, width: float, height: float, top: float = 1.0) -> Axes:
    """Axes of reflectance over wavelength."""
    return Axes(x, y, width, height, (380.0, 730.0), (0.0, top))


NM_TICKS = (400, 500, 600, 700)
