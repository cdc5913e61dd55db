"""Spectra on one grid to XYZ, CIELAB, CIEDE2000, sRGB, Munsell and words. Knows nothing of paint.

The public functions are imported when first used, so importing the package costs nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from tubewise.colour.difference import delta_e_2000 as delta_e_2000
    from tubewise.colour.gamut import in_srgb as in_srgb
    from tubewise.colour.gamut import into_srgb as into_srgb
    from tubewise.colour.grid import N_BANDS as N_BANDS
    from tubewise.colour.grid import WAVELENGTHS_NM as WAVELENGTHS_NM
    from tubewise.colour.lab import lab_from_lch as lab_from_lch
    from tubewise.colour.lab import lab_from_reflectance as lab_from_reflectance
    from tubewise.colour.lab import lab_from_xyz as lab_from_xyz
    from tubewise.colour.lab import lch_from_lab as lch_from_lab
    from tubewise.colour.lab import xyz_from_lab as xyz_from_lab
    from tubewise.colour.lights import LIGHTS as LIGHTS
    from tubewise.colour.lights import OBSERVERS as OBSERVERS
    from tubewise.colour.lights import weights as weights
    from tubewise.colour.lights import white_xyz as white_xyz
    from tubewise.colour.munsell import hvc_from_lab as hvc_from_lab
    from tubewise.colour.munsell import lab_from_hvc as lab_from_hvc
    from tubewise.colour.munsell import lab_from_munsell as lab_from_munsell
    from tubewise.colour.munsell import munsell_from_lab as munsell_from_lab
    from tubewise.colour.munsell import munsells_from_lab as munsells_from_lab
    from tubewise.colour.srgb import hex_from_lab as hex_from_lab
    from tubewise.colour.srgb import hexes_from_lab as hexes_from_lab
    from tubewise.colour.srgb import lab_from_hex as lab_from_hex
    from tubewise.colour.words import describe as describe
    from tubewise.colour.words import difference_words as difference_words
    from tubewise.colour.words import hue_family as hue_family
    from tubewise.colour.words import hue_name as hue_name
    from tubewise.colour.words import seen_words as seen_words
    from tubewise.colour.xyz import xyz_from_reflectance as xyz_from_reflectance

_HOMES = {
    "difference": ("delta_e_2000",),
    "gamut": ("in_srgb", "into_srgb"),
    "grid": ("N_BANDS", "WAVELENGTHS_NM"),
    "lab": (
        "lab_from_lch",
        "lab_from_reflectance",
        "lab_from_xyz",
        "lch_from_lab",
        "xyz_from_lab",
    ),
    "lights": ("LIGHTS", "OBSERVERS", "weights", "white_xyz"),
    "munsell": (
        "hvc_from_lab",
        "lab_from_hvc",
        "lab_from_munsell",
        "munsell_from_lab",
        "munsells_from_lab",
    ),
    "srgb": ("hex_from_lab", "hexes_from_lab", "lab_from_hex"),
    "words": ("describe", "difference_words", "hue_family", "hue_name", "seen_words"),
    "xyz": ("xyz_from_reflectance",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME_OF[name]}"), name)


def __dir__() -> list[str]:
    return sorted((*globals(), *_HOME_OF))
