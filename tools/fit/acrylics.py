"""The published K and S of artists' acrylics, brought to this package's unit and parts.

The table gives K and S against the white's scattering at each wavelength, and its parts are weighed
(see measured/sources.csv). Here the white's own curve of scattering is restored, since it does not
cancel in thin films, and parts by volume are what tubes are squeezed in: a paint that weighs half
of what the white does brings half as much into a volume as into a mass.
"""

from __future__ import annotations

import csv
from functools import lru_cache

import numpy as np
from scipy.optimize import brentq

from tools.fit.colours import White, colours
from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.pigments.curves import REFERENCE_NM
from tubewise.pigments.density import paint_density
from tubewise.pigments.models import DATA

# Rutile of 0.22 micrometres in a binder of index 1.5 scatters as this power of wavelength between
# 450 and 650 nm by Mie's theory (`tools.fit.mie`), and paints of it do about the same.
WHITE_POWER = 1.0
# What an opaque film of titanium white reads, specular included. from memory.
WHITE_L = 98.2


@lru_cache(maxsize=1)
def published() -> dict[str, tuple[Floats, Floats]]:
    """K and S (36,) as the table has them, by its names of pigments."""
    rows: dict[str, dict[float, tuple[float, float]]] = {}
    path = DATA / "measured" / "acrylics.csv"
    with path.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            at = rows.setdefault(row["pigment"], {})
            at[float(row["nm"])] = float(row["K"]), float(row["S"])
    tables = {name: np.array([at[nm] for nm in WAVELENGTHS_NM]) for name, at in rows.items()}
    return {name: (table[:, 0], table[:, 1]) for name, table in tables.items()}


@lru_cache(maxsize=1)
def white() -> White:
    """Titanium white: S = 1 at 560 nm by definition, its power by Mie.

    K is as published and a little more, the same at all wavelengths against S, until it reads the
    L* of a real film.
    """
    S = (WAVELENGTHS_NM / REFERENCE_NM) ** -WHITE_POWER
    K = published()["PW6"][0] * S
    ratio = brentq(lambda r: float(colours(K + r * S, S)[0]) - WHITE_L, 0.0, 0.01)
    return White(K=K + ratio * S, S=S, density=paint_density("PW6"))


def acrylic(name: str, ref: str) -> tuple[Floats, Floats]:
    """K and S (36,) by volume of the table's paint `name`, which is of the pigment `ref`."""
    K, S = published()[name]
    unit = white()
    scale = unit.S * paint_density(ref) / unit.density
    return K * scale, S * scale
