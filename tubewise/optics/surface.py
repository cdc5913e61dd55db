"""The skin of a paint film: light lost and returned where paint meets air (Saunderson 1942)."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_xyz, xyz_from_lab
from tubewise.colour.lights import white_xyz

# How an instrument treats the mirror reflection of a gloss film. A sphere may include it; a 45/0
# geometry, a scanner and a camera leave it out.
GEOMETRIES = ("excluded", "included")


@dataclass(frozen=True, slots=True)
class Surface:
    """A film's surface: `k1` reflected on the way in, `k2` on the way out, both in [0, 1).

    The defaults are the values usually fitted to gloss acrylic films; the theoretical pair for a
    binder of refractive index 1.5 is 0.040 and 0.596 (Saunderson, J. Opt. Soc. Am. 32, 1942).
    `specular_included` says whether the instrument sees the mirror reflection `k1` too.
    """

    k1: float = 0.03
    k2: float = 0.65
    specular_included: bool = True

    def __post_init__(self) -> None:
        if not (0.0 <= self.k1 < 1.0 and 0.0 <= self.k2 < 1.0):
            raise ValueError(f"surface constants must lie in [0, 1): k1={self.k1}, k2={self.k2}")


GLOSS = Surface()
# A rough skin, as gouache has, sends light back whatever the angle, rather more than a smooth one's
# mirror: a lamp black in it reads about L* 26, where a gloss film's black reads 20. from memory.
MATT = Surface(k1=0.045)
THEORETICAL = Surface(k1=0.040, k2=0.596)
BARE = Surface(k1=0.0, k2=0.0)


# How a matt skin reads in any geometry: it has no mirror that could be left out.
MATT_SKIN = "matt"


def gloss_read(geometry: str) -> Surface:
    """A gloss film read with the specular part `excluded` or `included`, or a `matt` skin.

    Raises ValueError for another geometry.
    """
    if geometry == MATT_SKIN:
        return MATT
    if geometry not in GEOMETRIES:
        raise ValueError(f"specular is included or excluded, not {geometry!r}")
    return GLOSS if geometry == "included" else Surface(specular_included=False)


def measured_from_internal(R: ArrayLike, surface: Surface = GLOSS) -> Floats:
    """Reflectance an instrument reads from the reflectance inside the film.

    R: any shape, in [0, 1]; returns the same shape. Saunderson 1942:
    R_m = k1 + (1 - k1)(1 - k2) R / (1 - k2 R), without the first term when specular is excluded.
    """
    R = np.asarray(R, dtype=np.float64)
    body = (1.0 - surface.k1) * (1.0 - surface.k2) * R / (1.0 - surface.k2 * R)
    return body + surface.k1 if surface.specular_included else body


def reading_slope(R: ArrayLike, surface: Surface = GLOSS) -> Floats:
    """How fast the reading rises with the reflectance inside the film: d R_m / d R, at R."""
    R = np.asarray(R, dtype=np.float64)
    return (1.0 - surface.k1) * (1.0 - surface.k2) / (1.0 - surface.k2 * R) ** 2


def internal_from_measured(R_m: ArrayLike, surface: Surface = GLOSS) -> Floats:
    """Reflectance inside the film from what an instrument reads; inverse of the above.

    Readings darker than the surface alone can give are taken as 0. Saunderson 1942.
    """
    R_m = np.asarray(R_m, dtype=np.float64)
    body = R_m - surface.k1 if surface.specular_included else R_m
    body = np.maximum(body, 0.0)
    return body / ((1.0 - surface.k1) * (1.0 - surface.k2) + surface.k2 * body)


def converted(
    lab: ArrayLike,
    geometry: str,
    to: str,
    surface: Surface = GLOSS,
    light: str = "D65",
    observer: str = "2",
) -> Floats:
    """CIELAB (..., 3) read in one geometry, `excluded` or `included`, as the other would read it.

    The mirror reflection adds `surface.k1` at every wavelength (Saunderson 1942), hence k1 of the
    white to XYZ: exact, whatever the spectrum. A colour darker than the mirror reflection alone
    becomes black. Raises ValueError for another geometry.
    """
    steps = gloss_read(to).specular_included - gloss_read(geometry).specular_included
    white = white_xyz(light, observer)
    xyz = xyz_from_lab(lab, light, observer) + steps * surface.k1 * white
    return np.asarray(lab_from_xyz(np.maximum(xyz, 0.0), light, observer))
