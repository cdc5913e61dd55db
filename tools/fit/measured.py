"""Which published measurement stands for which pigment: measured/attached.csv, made into curves."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from tools.fit.acrylics import acrylic, white
from tools.fit.oils import ZINC, oil, zinc_white
from tubewise.colour.arrays import Floats
from tubewise.pigments.models import DATA

# K and S are never nothing: below these no reading could tell.
_LEAST_K = 2e-5
_LEAST_S = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """A measured paint: K and S (36,) by volume against titanium white, and where they come from.

    `use` is `unit` for the white, `curve` for what stands for the pigment, `check` for a second
    paint of it. `warnings` are what the fit of drawdowns had to say.
    """

    ref: str
    K: Floats
    S: Floats
    source: str
    samples: tuple[str, ...]
    use: str
    note: str
    warnings: tuple[str, ...] = ()


@lru_cache(maxsize=1)
def measured() -> tuple[Curve, ...]:
    """Every measurement that stands for a pigment, in file order."""
    path = DATA / "measured" / "attached.csv"
    with path.open(encoding="utf-8", newline="") as file:
        return tuple(_curve(row) for row in csv.DictReader(file))


def _curve(row: dict[str, str]) -> Curve:
    names = tuple(row["samples"].split())
    warnings: tuple[str, ...] = ()
    if row["use"] == "unit":
        K, S = white().K, white().S
    elif row["source"] == "acrylics":
        K, S = acrylic(names[0], row["ref"])
    elif row["ref"] == ZINC:
        K, S = zinc_white().K, zinc_white().S
    else:
        found = oil(row["ref"], names)
        K, S, warnings = found.K, found.S, found.warnings
    return Curve(
        ref=row["ref"],
        K=np.maximum(K, _LEAST_K),
        S=np.maximum(S, _LEAST_S),
        source=row["source"],
        samples=names,
        use=row["use"],
        note=row["note"],
        warnings=warnings,
    )


def curves() -> dict[str, Curve]:
    """The measurement that stands for each pigment that has one, by ref; the white among them."""
    return {found.ref: found for found in measured() if found.use != "check"}
