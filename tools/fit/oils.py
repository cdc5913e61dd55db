"""K and S of old oil paints from their drawdowns, by the package's own path for measurements.

Each paint was drawn over black and over white cards, alone and in zinc white, weighed. Their zinc
white is found first, from its own film; its scattering against titanium white's is not in the data.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from tools.fit.acrylics import white
from tubewise.colour.arrays import Floats
from tubewise.measure.drawdowns import DrawdownSet, drawdown_set
from tubewise.measure.learn import learn
from tubewise.measure.manifest import Entry
from tubewise.measure.measured import MeasuredOptics
from tubewise.measure.references import Optics
from tubewise.measure.sample_names import CARD, MASSTONE, TINT, Role
from tubewise.measure.spectra import Conditions, Spectra, Spectrum
from tubewise.optics.film import MICRONS_PER_UNIT
from tubewise.optics.surface import GLOSS, Surface
from tubewise.pigments.density import paint_density
from tubewise.pigments.models import DATA

ZINC = "PW4"
BLACK = "PBk9"
ZINC_SAMPLE = "07A"
# Zinc white's scattering at 560 nm against titanium white's, by volume of oil paint: hiding by mass
# 20 to 150 (from memory; Mie's theory gives the same, see `tools.fit.mie`), times 2.4 g of zinc
# oxide and 2.0 g of titanium dioxide in a millilitre. Three pigments that stand in both sets of
# measurements would be equally strong in both at 0.14, with a factor of 1.8 between them.
ZINC_SCATTER = 0.16
# Its film is then this thick, and those of the other whites were drawn alike (assumed).
WHITES_FILM = 64.0
# Films that read less than their gloss lost part of the mirror reflection; a paint's constant is
# taken this far below its darkest reading.
_BELOW_DARKEST = 0.002


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample:
    """One paint as drawn: `parts` by mass by pigment; `over` and `bare` (n,) by card, as read."""

    name: str
    parts: dict[str, float]
    nm: Floats
    over: dict[str, Floats]
    bare: dict[str, Floats]


@lru_cache(maxsize=1)
def samples() -> dict[str, Sample]:
    """All samples by name, reflectance as fractions."""
    found: dict[str, Sample] = {}
    path = DATA / "measured" / "historic_oils.csv"
    with path.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            nm = [column for column in row if column.isdigit()]
            shares = (part.split() for part in row["parts_by_mass"].split(" + "))
            sample = found.setdefault(
                row["sample"],
                Sample(
                    name=row["sample"],
                    parts={pigment: float(share) for pigment, share in shares},
                    nm=np.array([float(n) for n in nm]),
                    over={},
                    bare={},
                ),
            )
            place, _, card = row["read"].partition(" ")
            values = np.array([float(row[n]) for n in nm]) / 100.0
            (sample.over if place == "over" else sample.bare)[card] = values
    return found


def skin(names: Sequence[str], surface: Surface = GLOSS) -> Surface:
    """The surface of some samples: a gloss film's, its k1 no larger than their readings allow."""
    darkest = min(float(R.min()) for name in names for R in samples()[name].over.values())
    return replace(surface, k1=min(surface.k1, round(darkest - _BELOW_DARKEST, 3)))


def drawn(ref: str, names: Sequence[str], film: float | None = None) -> DrawdownSet:
    """The drawdowns of one paint, alone and in zinc white, as if read from a file.

    `film` is the thickness of all of them in this package's unit, None where nothing says.
    """
    pigment = ref.partition("/")[0]
    conditions = Conditions(specular="included")
    readings: list[Spectrum] = []
    entries: list[Entry] = []

    def add(title: str, role: Role, sample: Sample, values: Floats) -> None:
        readings.append(Spectrum(title, tuple(sample.nm), tuple(values), title, conditions))
        entries.append(Entry(title, role))

    microns = None if film is None else film * MICRONS_PER_UNIT
    for name in names:
        sample = samples()[name]
        for card, values in sample.over.items():
            role = Role(MASSTONE, ground=card, thickness_um=microns)
            if len(sample.parts) > 1:
                own = next(share for p, share in sample.parts.items() if p != ZINC)
                role = Role(TINT, own, sample.parts[ZINC], "weight", card, microns)
            add(f"{name} over {card}", role, sample, values)
    for card, values in samples()[names[0]].bare.items():
        add(f"card {card}", Role(CARD, ground=card), samples()[names[0]], values)
    made = drawdown_set(
        [Spectra(tuple(readings))],
        entries,
        density=paint_density(pigment, "oil"),
        white_density=paint_density(ZINC, "oil"),
    )
    # The densities are computed, not weighed: parts are worth no more than without them.
    return replace(made, density_known=False)


@lru_cache(maxsize=4)
def zinc_white(surface: Surface = GLOSS) -> Optics:
    """The zinc white of the tints, its scattering smoothed to a curve of two powers."""
    names = [ZINC_SAMPLE]
    titanium = Optics(white().K, white().S, "titanium white")
    found = learn(drawn(ZINC, names, WHITES_FILM), white=titanium, surface=skin(names, surface))
    nm = np.arange(380.0, 731.0, 10.0)
    seen = (nm >= 430.0) & (nm <= 700.0)
    x = np.log(nm / 560.0)
    S = np.exp(np.polyval(np.polyfit(x[seen], np.log(found.S[seen]), 2), x))
    S *= ZINC_SCATTER / S[nm == 560.0]
    return Optics(found.K / found.S * S, S, "the zinc white of these paints")


def oil(ref: str, names: Sequence[str], surface: Surface = GLOSS) -> MeasuredOptics:
    """Optics of an oil paint from its drawdowns; UserError when they can't be right."""
    is_white = ref.partition("/")[0] in ("PW1", "PW18", "PW21")
    return learn(
        drawn(ref, names, WHITES_FILM if is_white else None),
        tube=ref,
        white=zinc_white(surface),
        surface=skin(names, surface),
    )
