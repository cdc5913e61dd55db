"""How a tube looks, as far as anything known of it tells."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise.colour.hexes import lab_from_hex
from tubewise.colour.patch import Colour
from tubewise.paints.shelf import Shelf, swatch_as_shown
from tubewise.paints.strip import Strip, strip
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """A tube's colour and strip; None where nobody can know.

    `basis` is that of its paint (modelled, measured, …), `swatch` or `screen colour` where only
    its row gives a colour, and empty without one.
    """

    colour: Colour | None = None
    strip: Strip | None = None
    basis: str = ""


def look(tube: Tube, shelf: Shelf) -> Look:
    """By its pigments or measurement where it has them, else by the colour its row gives."""
    paint = shelf.tube(tube)
    if paint is not None:
        setting = shelf.setting_for(paint)
        colour = Colour.of(setting.lab_alone(paint)[0])
        return Look(colour=colour, strip=strip(paint, setting), basis=paint.basis)
    swatch = swatch_as_shown(tube)
    if swatch is not None:
        return Look(colour=Colour.of(swatch), basis="swatch")
    if tube.swatch_hex:
        return Look(colour=Colour.of(lab_from_hex(tube.swatch_hex)), basis="screen colour")
    return Look()
