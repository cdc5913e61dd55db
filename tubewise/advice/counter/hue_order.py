"""The order in which paint stands on a rack: by hue as its tint shows it, greys and whites last."""

from __future__ import annotations

from tubewise.colour.hexes import lab_from_hex
from tubewise.colour.lab import lch_from_lab
from tubewise.colour.patch import Colour
from tubewise.paints.strip import Strip

# What every rack ends with, after the circle of hues and the browns (common practice, no source).
_RACK = ("yellow", "orange", "red", "violet", "blue", "green", "brown", "grey", "black", "white")
# The tint that tells hues apart where masstones are all nearly black: one part in three of white.
_TELLING = 1
# The circle is cut between green and yellow (CIELAB hue in degrees).
_CUT = 112.0
# A yellow as dark as this is an olive, and stands among the greens (common practice, no source).
_OLIVE_BELOW_L = 55.0


def place_on_rack(hues: tuple[str, ...], colour: Colour | None, strip: Strip | None) -> RackPlace:
    """Where a paint stands: its first hue, then round the circle, then from light to dark.

    `hues` are those it is looked for under, `colour` how it looks alone, `strip` its drawdown.
    """
    if colour is None:
        return (len(_RACK), 0.0, 0.0)
    tint = lab_from_hex(strip.tints[_TELLING]) if strip is not None else colour.lab
    hue = float(lch_from_lab(tint)[2])
    lightness = float(colour.lab[0])
    family = hues[0] if hues else _RACK[-1]
    if family == "yellow" and lightness < _OLIVE_BELOW_L:
        family = "green"
    return (_RACK.index(family), (_CUT - hue) % 360.0, -lightness)


RackPlace = tuple[int, float, float]
