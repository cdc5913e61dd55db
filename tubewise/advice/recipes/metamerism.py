"""What a change of light does to a match: the special index of metamerism."""

from __future__ import annotations

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_xyz
from tubewise.colour.lights import LIGHTS
from tubewise.colour.xyz import xyz_from_reflectance


def special_metamerism(R_target: Floats, R: Floats) -> dict[str, float]:
    """Special index of metamerism, change of illuminant, for each light but D65, in CIEDE2000.

    `R_target`, `R`: reflectances (36,), 0 to 1. What mismatch remains under D65 is first taken out
    by scaling XYZ. CIE 015:2018.
    """
    scale = xyz_from_reflectance(R_target) / xyz_from_reflectance(R)
    index = {}
    for light in LIGHTS:
        if light != "D65":
            a = lab_from_xyz(xyz_from_reflectance(R_target, light), light)
            b = lab_from_xyz(xyz_from_reflectance(R, light) * scale, light)
            index[light] = round(float(delta_e_2000(a, b)), 2)
    return index
