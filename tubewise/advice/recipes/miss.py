"""How far and in which way a mixture misses its target."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from tubewise.advice.recipes.target import Target
from tubewise.advice.recipes.wishes import ALL_LIGHTS, SPECTRUM, Wishes
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance, lch_from_lab
from tubewise.colour.lights import LIGHTS

# CIELAB units below which a painter calls two colours as light, as clean, of the same hue.
SMALL_MISS = 2.0


def misses(target: Target, R: Floats) -> dict[str, float]:
    """CIEDE2000 of a reflectance (36,) from the target under each light."""
    return {
        light: round(
            float(delta_e_2000(target.lab_under(light), lab_from_reflectance(R, light))), 2
        )
        for light in LIGHTS
    }


def judged_under(by_light: dict[str, float], wishes: Wishes) -> str:
    """The light a recipe is judged under: the one asked for, or the worst where all are.

    Nearness in spectrum belongs to no light; daylight is taken then.
    """
    if wishes.light == ALL_LIGHTS:
        return max(by_light, key=lambda light: by_light[light])
    return "D65" if wishes.light == SPECTRUM else wishes.light


def under_text(light: str) -> str:
    """` under A`; "" for daylight."""
    return "" if light == "D65" else f" under {light}"


def miss_words(lab_target: ArrayLike, lab: ArrayLike) -> str:
    """In which way a colour misses the target: `as light and of the same hue, but duller by 9`."""
    (L0, C0, h0), (L1, C1, h1) = lch_from_lab(lab_target), lch_from_lab(lab)
    kept, lost = [], []
    dL, dC = float(L1 - L0), float(C1 - C0)
    turn = float((h1 - h0 + 180.0) % 360.0 - 180.0)
    dH = 2.0 * float(np.sqrt(max(C0 * C1, 0.0))) * float(np.sin(np.radians(turn) / 2.0))
    if abs(dL) < SMALL_MISS:
        kept.append("as light")
    else:
        lost.append(f"{'lighter' if dL > 0 else 'darker'} by {abs(dL):.0f}")
    if abs(dH) < SMALL_MISS:
        kept.append("of the same hue")
    else:
        lost.append(f"turned in hue by {abs(turn):.0f} degrees")
    if abs(dC) < SMALL_MISS:
        kept.append("as clean")
    else:
        lost.append(f"{'cleaner' if dC > 0 else 'duller'} by {abs(dC):.0f}")
    if not lost:
        return "on the target"
    return ", but ".join(filter(None, (" and ".join(kept), " and ".join(lost))))
