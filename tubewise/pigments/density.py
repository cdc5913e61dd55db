"""What paints weigh, and parts by mass turned into parts by volume.

A paint's density is that of its pigment and binder by their volumes. Dry pigments, the loads of
acrylic paint and the oil that a pigment takes up stand in data/densities.csv, for classes of
pigments and, where they differ from their class, for single ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.errors import UserError
from tubewise.pigments.register import load
from tubewise.pigments.tables import Faults, read_rows

BINDERS = ("acrylic", "oil")
# Densities in g/ml, from memory: an acrylic emulsion with its thickeners; linseed oil.
ACRYLIC_BASE = 1.04
OIL = 0.93
# Artists' oil paint holds about this much more oil than the oil absorption test takes, which stops
# at a stiff paste. common practice, no source.
OIL_BEYOND_ABSORPTION = 1.25

_COLUMNS = ("pigments", "density", "acrylic_load", "oil_absorption", "source")


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """What a dry pigment weighs: `density` in g/ml.

    `acrylic_load` is a share of the wet paint's volume, `oil_absorption` in g per 100 g of
    pigment; `source` says where they come from.
    """

    density: float
    acrylic_load: float
    oil_absorption: float
    source: str

    def load(self, binder: str) -> float:
        """The pigment's share of the paint's volume, in `acrylic` as squeezed or in `oil`."""
        if binder == "acrylic":
            return self.acrylic_load
        oil = OIL_BEYOND_ABSORPTION * self.oil_absorption / 100.0 / OIL
        return 1.0 / (1.0 + self.density * oil)

    def paint(self, binder: str) -> float:
        """Density of the paint in g/ml; ValueError for a binder that is neither acrylic nor oil."""
        if binder not in BINDERS:
            raise ValueError(f"densities are known of {' and '.join(BINDERS)}, not of {binder!r}")
        share = self.load(binder)
        base = ACRYLIC_BASE if binder == "acrylic" else OIL
        return share * self.density + (1.0 - share) * base


@lru_cache(maxsize=1)
def _table() -> dict[str, Weights]:
    from tubewise.pigments.models import DATA

    path = DATA / "densities.csv"
    faults = Faults(path.name)
    table: dict[str, Weights] = {}
    for row in read_rows(path, _COLUMNS):
        numbers: dict[str, float] = {}
        for column in _COLUMNS[1:4]:
            try:
                numbers[column] = float(row[column])
            except ValueError:
                faults.add(row, column, "not a number")
        if len(numbers) == 3:
            table[row["pigments"]] = Weights(source=row["source"], **numbers)
    faults.raise_if_any()
    return table


def weights(ref: str) -> Weights:
    """What the pigment of `ref` weighs, by its code or else its class.

    Raises UserError for a pigment the register doesn't know, or a class without a density.
    """
    pigment, _ = load().resolve(ref)
    for key in (pigment.code, pigment.code.partition(":")[0], pigment.chem_class):
        if key in _table():
            return _table()[key]
    raise UserError(
        f"nobody has written down what {pigment.code} weighs: add its class "
        f"({pigment.chem_class}) to densities.csv"
    )


def paint_density(ref: str, binder: str = "acrylic") -> float:
    """Density in g/ml of artist-grade paint of one pigment; see `weights` and `Weights.paint`."""
    return weights(ref).paint(binder)


def volume_parts(refs: Sequence[str], masses: ArrayLike, binder: str = "acrylic") -> Floats:
    """Parts by volume (..., n), summing to 1, of paints weighed out in `masses` (..., n)."""
    grams = np.asarray(masses, dtype=np.float64)
    volumes = grams / np.array([paint_density(ref, binder) for ref in refs])
    return np.asarray(volumes / volumes.sum(axis=-1, keepdims=True))
