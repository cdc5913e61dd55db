"""The colour a person wants to reach: a tube, a measured or typed colour, Munsell or a spectrum."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.hexes import lab_from_hex
from tubewise.colour.lab import lab_from_reflectance
from tubewise.colour.munsell import lab_from_munsell
from tubewise.colour.patch import Colour
from tubewise.colour.smooth import smooth_reflectance
from tubewise.errors import UserError
from tubewise.measure.read_file import read_file
from tubewise.measure.resample import resample
from tubewise.optics.surface import GLOSS, Surface, internal_from_measured, measured_from_internal
from tubewise.paints.appearance import appearance
from tubewise.paints.paint import Paint
from tubewise.paints.setting import Setting
from tubewise.paints.shelf import Shelf, swatch_as_shown
from tubewise.paints.wash import wash
from tubewise.pigments.opacity import CLEAR, opacity_of
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.tubes.tube import Tube

# A fluorescent or badly zeroed reading passes 1 a little; beyond this it is no reflectance.
BRIGHTEST = 1.1
MOST_NAMED = 6


@dataclass(frozen=True, slots=True, eq=False)
class Target:
    """`lab` (3,) under D65/2 degrees and `reflectance` (36,) that shows it.

    `spectral` is False where the reflectance is only the smoothest one with that colour, so that
    what it does under other lights is an assumption. `tube` where it is a tube's colour; `pigment`
    where it is that of a pigment without one, which looks otherwise in each medium.
    """

    name: str
    lab: Floats
    reflectance: Floats
    spectral: bool
    tube: Tube | None = None
    pigment: Paint | None = None

    @property
    def colour(self) -> Colour:
        """The colour asked for, as shown."""
        return Colour.of(self.lab)

    @property
    def clear(self) -> bool:
        """Whether it is the colour of a transparent paint."""
        return bool(self.refs) and opacity_of(self.refs) in CLEAR

    @property
    def refs(self) -> tuple[Ref, ...]:
        """The pigments whose colour it is, where it is that of a paint the register knows."""
        refs = self.tube.refs if self.tube else self.pigment.refs if self.pigment else ()
        return tuple(ref for ref in refs if load().get(ref.code) is not None)

    def lab_under(self, light: str) -> Floats:
        """CIELAB (3,) under a light: as asked under D65, elsewhere as its reflectance shows."""
        return self.lab if light == "D65" else lab_from_reflectance(self.reflectance, light)


def _from_lab(name: str, lab: Floats) -> Target:
    L, a, b = (float(v) for v in lab)
    if not (0.0 <= L <= 100.0 and np.hypot(a, b) <= 160.0):
        raise UserError(
            "a colour has L* from 0 to 100 and a*, b* that a surface can have", where=f"“{name}”"
        )
    return Target(name, np.array([L, a, b]), smooth_reflectance([L, a, b]), False)


def _numbers(text: str, name: str) -> list[float]:
    try:
        values = [float(v) for v in text.replace(";", ",").split(",")]
    except ValueError:
        values = []
    if len(values) != 3 or not all(np.isfinite(values)):
        raise UserError(
            "write a CIELAB colour as lab:L,a,b, such as lab:52,38,-20", where=f"“{name}”"
        )
    return values


def read_spectrum(path: Path) -> Floats:
    """Reflectance (36,) from a file with one reading: spectral CSV, CGATS or CxF3.

    0 to 1 or percent. A reading without the mirror reflection gets it back, as everything else
    here is seen with it. Raises UserError for anything else, or names the readings of several.
    """
    found = read_file(path).spectra
    if len(found) != 1:
        names = ", ".join(f"“{r.name}”" for r in found[:MOST_NAMED])
        more = f" and {len(found) - MOST_NAMED} more" if len(found) > MOST_NAMED else ""
        raise UserError(
            f"a target is one spectrum, and this file holds {len(found)}: {names}{more}; keep one",
            where=str(path),
        )
    spectrum = found[0]
    R = np.asarray(spectrum.reflectance, dtype=np.float64)
    if R.min() < 0.0 or R.max() > BRIGHTEST:
        raise UserError(
            "reflectances must lie between 0 and 1, or 0 and 100 %",
            where=spectrum.where or str(path),
        )
    on_grid = resample(spectrum.wavelengths_nm, R, spectrum.where or str(path)).reflectance
    if spectrum.conditions.specular == "excluded":
        matt = Surface(specular_included=False)
        on_grid = measured_from_internal(internal_from_measured(on_grid, matt))
    return np.clip(on_grid, 0.0, 1.0)


def is_spectrum_file(text: str) -> bool:
    """Whether a target means a file; a text too long or odd for a file's name does not."""
    try:
        return Path(text).is_file()
    except (OSError, ValueError):
        return False


def target(text: str, shelf: Shelf) -> Target:
    """What a person's TARGET means.

    It is a tube's id or pigment, `lab:L,a,b`, `#rrggbb`, `munsell:…` or a spectrum file. Raises
    UserError when it is none of these.
    """
    if text.startswith("lab:"):
        return _from_lab(text, np.array(_numbers(text[4:], text)))
    if text.startswith("#"):
        return _from_lab(text, lab_from_hex(text))
    if text.startswith("munsell:"):
        return _from_lab(text, lab_from_munsell(text[8:]))
    if is_spectrum_file(text):
        R = read_spectrum(Path(text))
        return Target(text, lab_from_reflectance(R), R, True)
    if text in shelf.tubes:
        return of_tube(shelf.tubes[text], shelf)
    return of_paint(shelf.term(text))


def of_paint(paint: Paint, setting: Setting | None = None) -> Target:
    """A paint's own masstone as a target, a gloss film's where no `setting` says its skin."""
    R = appearance(paint.K[0], paint.S[0], surface=setting.surface if setting else GLOSS)
    pigment = paint if paint.tube is None else None
    return Target(paint.name, lab_from_reflectance(R), R, True, paint.tube, pigment)


def laid_in(aim: Target, setting: Setting) -> Target:
    """A target as it looks in a setting: a pigment in watercolour is a strong wash."""
    if aim.pigment is None:
        return aim
    R = setting.reads_alone(aim.pigment)
    return replace(aim, lab=lab_from_reflectance(R), reflectance=R)


def of_wash(paint: Paint, water: float) -> Target:
    """A wash of a paint on paper as a target, `water` parts to one of paint."""
    R = wash(paint.K[0], paint.S[0], water)
    return Target(paint.name, lab_from_reflectance(R), R, True, paint.tube)


def of_tube(tube: Tube, shelf: Shelf) -> Target:
    """A tube's colour: its measured swatch where it has one, else what its pigments predict.

    That of a watercolour is a strong wash.
    """
    paint = shelf.tube(tube)
    seen = swatch_as_shown(tube)
    if paint is not None:
        R = shelf.setting_for(paint).reads_alone(paint)
        lab = lab_from_reflectance(R) if seen is None else seen
        return Target(tube.title, lab, R, True, tube)
    if seen is not None:
        return replace(_from_lab(tube.title, seen), tube=tube)
    if tube.swatch_hex:
        return replace(_from_lab(tube.title, lab_from_hex(tube.swatch_hex)), tube=tube)
    raise UserError(
        "this tube declares no pigments and has no swatch: its colour is not known", where=tube.id
    )
