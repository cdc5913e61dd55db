"""Watercolour as it is used: thinned with water, in a wash on white paper.

Water is a part of the mixture as any paint is, one that neither absorbs nor scatters; a wash is a
thin film over paper, and the light of the paper is its white. Dry watercolour has no gloss, so that
its surface returns the same few per cent whatever the angle.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import MICRONS_PER_UNIT, film_reflectance
from tubewise.optics.surface import internal_from_measured, measured_from_internal
from tubewise.paints.paint import DRAWS, Paint
from tubewise.pigments.trust import MEASURED

# What white cotton paper without brightener reads at some wavelengths: a warm white. from memory.
_PAPER_NM = (380.0, 400.0, 430.0, 460.0, 500.0, 550.0, 600.0, 650.0, 730.0)
_PAPER_READS = (0.70, 0.76, 0.82, 0.855, 0.875, 0.89, 0.90, 0.905, 0.91)
PAPER: Floats = internal_from_measured(np.interp(WAVELENGTHS_NM, _PAPER_NM, _PAPER_READS))
# The film that tube watercolour leaves when it is brushed out without water, in the unit of
# `optics.film`: 15 micrometres of wet paint, a tenth of a drawdown. Water thins it out in
# proportion. common practice, no source.
MICROMETRES = 15.0
STRAIGHT_FILM = MICROMETRES / MICRONS_PER_UNIT
# The washes by which a watercolour is judged: parts of water to one of paint.
WASHES: Mapping[str, float] = {"strong": 1.0, "middle": 6.0, "pale": 20.0}
WATER_NAME = "water"
# Next to nothing, as some solvers divide by K and S.
_NOTHING = 1e-6


def wash(K: ArrayLike, S: ArrayLike, water: ArrayLike = 0.0) -> Floats:
    """Reflectance of a wash on paper as an instrument reads it, of paint of K, S (..., 36).

    `water` is parts of water to one of paint, broadcast over all but the last axis.
    """
    film = STRAIGHT_FILM / (1.0 + np.asarray(water, dtype=np.float64))[..., None]
    return measured_from_internal(film_reflectance(K, S, film, PAPER))


def lab_wash(paint: Paint, water: ArrayLike = 0.0) -> Floats:
    """CIELAB (DRAWS + 1, 3) of a wash of a paint; `water` a number, or one for each draw."""
    return lab_from_reflectance(wash(paint.K, paint.S, np.broadcast_to(water, (DRAWS + 1,))))


def water() -> Paint:
    """Water as a paint of no pigment, for a mixture's parts."""
    nothing = np.full((DRAWS + 1, WAVELENGTHS_NM.size), _NOTHING)
    return Paint(WATER_NAME, None, (), (), nothing, nothing, MEASURED, "high")


def is_water(paint: Paint) -> bool:
    """Whether a part of a mixture is water."""
    return paint.tube is None and not paint.refs and paint.name == WATER_NAME


def parts_in_words(paint: float, water: float) -> str:
    """How a painter says a dilution: `1 paint : 6 water`."""
    return f"{paint:g} paint : {water:g} water"
