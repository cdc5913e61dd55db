"""Mixtures of the old oil paints with bone black and with chalks, foretold and read.

Paints are fitted to their drawdowns alone and in zinc white, by `tubewise.measure`; bone black to
those in zinc white, since it was not drawn alone. Their mixtures are then computed and held against
the readings over both cards.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from tools.fit.measured import measured
from tools.fit.oils import BLACK, WHITES_FILM, ZINC, Sample, oil, samples, skin, zinc_white
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.measure.measured import MeasuredOptics
from tubewise.optics.film import film_reflectance
from tubewise.optics.surface import (
    THEORETICAL,
    Surface,
    internal_from_measured,
    measured_from_internal,
)
from tubewise.pigments.density import volume_parts

# Of a binder of linseed oil's index; K2 = 0.65 is what is usual for acrylics.
OIL_SURFACE = THEORETICAL
# The eosin lake left out of the register's measured pigments, here as its own drawdowns have it.
EXTRA = {"PR90": ("03A", "03B", "03C")}
_GLOSSES = (0.02, 0.025, 0.03, 0.035, 0.04)
_FILMS = np.geomspace(15.0, 150.0, 14)


@dataclass(frozen=True, slots=True, kw_only=True)
class Foretold:
    """How far one mixture over two cards is from what was foretold, in CIEDE2000.

    `free` is so with the two numbers that nobody wrote down, thickness and gloss, set to fit best.
    """

    sample: str
    parts: str
    black: float
    white: float
    free: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Paint:
    K: Floats
    S: Floats
    film: float
    k1: float


def _paint(ref: str, names: tuple[str, ...], surface: Surface) -> _Paint:
    if ref == ZINC:
        found = zinc_white(surface)
        return _Paint(K=found.K, S=found.S, film=WHITES_FILM, k1=surface.k1)
    fitted: MeasuredOptics = oil(ref, names, surface)
    films = [film.thickness for film in fitted.films if film.kind == "masstone" and film.thickness]
    return _Paint(
        K=fitted.K,
        S=fitted.S,
        film=films[0] if films else np.inf,
        k1=skin(names, surface).k1,
    )


def paints(surface: Surface = OIL_SURFACE) -> dict[str, _Paint]:
    """The oil paints by pigment, from their drawdowns alone and in zinc white."""
    sets = {found.ref: found.samples for found in measured() if found.source == "oils"}
    sets = {ref.partition("/")[0] if "/red" in ref else ref: names for ref, names in sets.items()}
    return {ref: _paint(ref, names, surface) for ref, names in (sets | EXTRA).items()}


def mixtures() -> list[Sample]:
    """The samples that mix two paints other than one paint and zinc white."""
    return [
        sample
        for sample in samples().values()
        if len(sample.parts) == 2 and ZINC not in sample.parts
    ]


def foretold(surface: Surface = OIL_SURFACE) -> Iterator[Foretold]:
    """Every mixture held against its readings."""
    known = paints(surface)
    for sample in mixtures():
        names = list(sample.parts)
        masses = list(sample.parts.values())
        share = volume_parts(names, masses, "oil")
        K = share @ np.stack([known[name].K for name in names])
        S = share @ np.stack([known[name].S for name in names])
        body = known[names[int(np.argmax(masses))]]
        black, white = _misses(sample, K, S, body.film, Surface(body.k1, surface.k2))
        free = min(
            float(np.mean(_misses(sample, K, S, film, Surface(k1, surface.k2))))
            for film in _FILMS
            for k1 in _GLOSSES
        )
        parts = " + ".join(f"{mass:g} {name}" for name, mass in sample.parts.items())
        yield Foretold(sample=sample.name, parts=parts, black=black, white=white, free=free)


def _misses(
    sample: Sample, K: Floats, S: Floats, film: float, surface: Surface
) -> tuple[float, float]:
    """CIEDE2000 over the black and over the white card."""
    out: list[float] = []
    for card in ("black", "white"):
        seen = np.interp(WAVELENGTHS_NM, sample.nm, sample.over[card])
        bare = np.interp(WAVELENGTHS_NM, sample.nm, sample.bare[card])
        inside = film_reflectance(K, S, film, internal_from_measured(bare, surface))
        lab = lab_from_reflectance(measured_from_internal(inside, surface))
        out.append(float(delta_e_2000(lab, lab_from_reflectance(seen))))
    return out[0], out[1]


def with_black(found: Foretold) -> bool:
    """Whether bone black is in it."""
    return BLACK in found.parts
