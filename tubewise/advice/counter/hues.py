"""Under which hues people look for a tube."""

from __future__ import annotations

from tubewise.colour.lab import lch_from_lab
from tubewise.colour.patch import Colour
from tubewise.colour.words import hue_family
from tubewise.pigments.register import load
from tubewise.tubes.tube import Tube

HUES = ("yellow", "orange", "red", "violet", "blue", "green", "brown", "black", "white", "grey")
# Between two of the hues, a paint is looked for under both.
_BETWEEN = {
    "magenta": ("red", "violet"),
    "yellow-green": ("green", "yellow"),
    "blue-green": ("blue", "green"),
}
# Lighter and greyer than this, or darker, it is a white or a black to a person who looks for one
# (common practice, no source).
_WHITE_FROM_L, _WHITE_BELOW_C = 88.0, 10.0
_BLACK_BELOW_L = 30.0


def hues(tube: Tube, colour: Colour | None) -> tuple[str, ...]:
    """The hues of a tube that looks like `colour`; none where nobody knows how it looks.

    A tube of one pigment that has one colour goes by the register's hue of it.
    """
    if len(tube.refs) == 1 and tube.swatch_lab is None:
        pigment = load().get(tube.refs[0].code)
        if pigment is not None and not pigment.forms:
            return (pigment.hue,)
    return () if colour is None else _of_colour(colour)


def _of_colour(colour: Colour) -> tuple[str, ...]:
    lightness, chroma, hue = lch_from_lab(colour.lab).tolist()
    if "brown" in colour.name:
        return ("brown",)
    if "white" in colour.name or (lightness > _WHITE_FROM_L and chroma < _WHITE_BELOW_C):
        return ("white",)
    if colour.name.endswith(("grey", "black")):
        return ("black",) if lightness < _BLACK_BELOW_L else ("grey",)
    family = hue_family(hue)
    return _BETWEEN.get(family, (family,))
