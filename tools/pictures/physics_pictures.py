"""Pictures for docs/physics.md, each computed from the tool's own optics.

Colours on the screen are those of D65 and the 2 degree observer, as a spectrophotometer reads a
gloss film with specular included. Where something is drawn at random, the seed is fixed.
"""

from __future__ import annotations

from collections.abc import Callable

from tools.pictures.pictures_of_models import metamerism, surface, three_ways, uncertainty
from tools.pictures.pictures_of_paints import dioxazine, hiding, strips, two_numbers, two_reds

PHYSICS: dict[str, Callable[[], str]] = {
    "strips": strips,
    "two-numbers": two_numbers,
    "hiding": hiding,
    "dioxazine": dioxazine,
    "two-reds": two_reds,
    "three-ways": three_ways,
    "surface": surface,
    "metamerism": metamerism,
    "uncertainty": uncertainty,
}
