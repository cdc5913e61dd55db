"""The drawdown strip of a paint: thinning over white and over black, then its tints in white."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tubewise.colour.hexes import hexes_from_lab
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import BLACK_GROUND, DRAWDOWN_FILM, WHITE_GROUND, film_reflectance
from tubewise.optics.surface import measured_from_internal
from tubewise.paints.appearance import Company, lab_with
from tubewise.paints.paint import Paint

# From a full drawdown down to a film that hardly covers; even steps of the eye, not of thickness.
THICKNESSES = DRAWDOWN_FILM * np.geomspace(1.0, 0.003, 9)
TINT_PARTS = (1.0, 3.0, 10.0, 30.0)


@dataclass(frozen=True, slots=True)
class Strip:
    """Screen colours: `over_white`, `over_black` from thick to thin, and `tints` 1:1 to 1:30."""

    over_white: tuple[str, ...]
    over_black: tuple[str, ...]
    tints: tuple[str, ...]


def strip(paint: Paint, white: Paint) -> Strip:
    """The strip of a paint's best estimate; tints are with `white`."""
    K, S = paint.K[0], paint.S[0]
    films = [
        measured_from_internal(film_reflectance(K, S, THICKNESSES[:, None], ground))
        for ground in (WHITE_GROUND, BLACK_GROUND)
    ]
    over_white, over_black = (_hexes(lab_from_reflectance(R)) for R in films)
    tints = [lab_with(paint, Company("", (white,), (n,), 1.0))[0] for n in TINT_PARTS]
    return Strip(over_white, over_black, _hexes(np.stack(tints)))


def _hexes(lab: np.ndarray[tuple[int, int], np.dtype[np.float64]]) -> tuple[str, ...]:
    return tuple(str(h) for h in hexes_from_lab(lab))
