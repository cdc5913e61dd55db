"""Lights and observers as ASTM E308 weights on the grid."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files
from typing import Final

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import N_BANDS
from tubewise.errors import UserError

LIGHTS: Final = ("D65", "D50", "A", "FL2", "FL11", "LED-B3")
"""Lights that can be asked for, by their CIE 015:2018 names."""

OBSERVERS: Final = ("2", "10")
"""Standard observers, degrees of visual field: CIE 1931 and CIE 1964."""


@cache
def _table() -> dict[tuple[str, str], Floats]:
    table = {
        (light, observer): np.zeros((N_BANDS, 3)) for light in LIGHTS for observer in OBSERVERS
    }
    source = files("tubewise.colour").joinpath("data/weights.csv")
    lines = source.read_text(encoding="utf-8").splitlines()
    for row in csv.DictReader(line for line in lines if not line.startswith("#")):
        band = (int(row["wavelength_nm"]) - 380) // 10
        table[row["light"], row["observer"]][band] = [float(row[axis]) for axis in "xyz"]
    for array in table.values():
        array.flags.writeable = False
    return table


def weights(light: str = "D65", observer: str = "2") -> Floats:
    """Tristimulus weights for one light and observer.

    Returns shape (36, 3), read-only; XYZ = R @ weights, and the Y column sums to 100, so a
    perfect white has Y = 100. The outermost bands carry the weights of 360-370 and 740-780 nm.
    Raises `UserError` for an unknown light or observer. Source: ASTM E308 and E2022 from the CIE
    tables; see `data/weights.csv`.
    """
    try:
        return _table()[light, str(observer)]
    except KeyError:
        raise UserError(
            f"There is no light {light!r} with observer {observer!r}. Use one of the lights "
            f"{', '.join(LIGHTS)} and one of the observers {', '.join(OBSERVERS)}."
        ) from None


@cache
def white_xyz(light: str = "D65", observer: str = "2") -> Floats:
    """XYZ of the perfect white (reflectance 1 everywhere), shape (3,), Y = 100, read-only.

    Raises `UserError` for an unknown light or observer.
    """
    white: Floats = weights(light, observer).sum(axis=0)
    white.flags.writeable = False
    return white
