"""What is wrong with a set of drawdowns before anything is fitted: refused, or flagged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.measure.drawdowns import Drawdown, DrawdownSet
from tubewise.measure.sample_names import MASSTONE, TINT
from tubewise.measure.spectra import Spectrum

# An instrument may read a black trap a little below nothing, but not this far.
_LOWEST = -0.005
# How far a paint's readings must rise or fall to say anything: five times an instrument's error.
_CLEAR = 0.01
# Below this no gloss surface reads with its mirror reflection included (Fresnel at n = 1.4: 2.8 %).
_DARKEST_INCLUDED = 0.02


@dataclass(frozen=True, slots=True)
class Found:
    """`problems` for which a set is refused and `warnings` with which it is fitted all the same."""

    problems: tuple[str, ...]
    warnings: tuple[str, ...]


def check(drawn: DrawdownSet, white: Floats) -> Found:
    """Everything wrong with a set, each with the sample and the reason.

    `white` (36,) is what the opaque white of the tints reads, or would read.
    """
    problems: list[str] = []
    warnings: list[str] = []
    for reading in drawn.raw:
        _range(reading, problems, warnings)
    problems += _same_spectrum(drawn.raw)
    if drawn.conditions.specular == "included":
        dark = [r.name for r in drawn.raw if min(r.reflectance) < _DARKEST_INCLUDED]
        if dark:
            warnings.append(
                f"{', '.join(sorted(set(dark)))}: darker than the mirror reflection of a gloss "
                "film alone; was specular excluded, or is the paint matt?"
            )
    if not problems:
        problems += _order(drawn.films, white)
    return Found(tuple(problems), tuple(warnings))


def _range(reading: Spectrum, problems: list[str], warnings: list[str]) -> None:
    R, w = reading.reflectance, reading.wavelengths_nm
    high = int(np.argmax(R))
    if R[high] > 1.0:
        problems.append(
            f"{reading.name} ({reading.where}) reads {100 * R[high]:.1f} % at {w[high]:g} nm, "
            "above 100 %: a fluorescent paint, a wrong calibration, or a wrong scale (--scale)"
        )
    low = int(np.argmin(R))
    if R[low] < _LOWEST:
        problems.append(
            f"{reading.name} ({reading.where}) reads {100 * R[low]:.2f} % at {w[low]:g} nm, below "
            "nothing: calibrate the instrument's zero again"
        )
    elif R[low] < 0.0:
        warnings.append(f"{reading.name}: a little below zero at {w[low]:g} nm, taken as it is")


def _same_spectrum(raw: Sequence[Spectrum]) -> list[str]:
    return [
        f"{a.name} ({a.where}) and {b.name} ({b.where}) hold the very same numbers: one was copied "
        "over the other"
        for a, b in combinations(raw, 2)
        if a.reflectance == b.reflectance and a.name != b.name
    ]


def _order(films: Sequence[Drawdown], white: Floats) -> list[str]:
    """Tints that do not come nearer to the white as it grows, and masstones nearer than a tint.

    K/S of a mixture is a ratio of two straight lines in the share, so at every band the reading
    goes one way only, from the white's to the masstone's.
    """
    opaque = [f for f in films if f.role.ground == "opaque"]
    if len(opaque) < 2:
        return []
    table = np.stack([f.R for f in opaque])
    seen = np.stack([np.isfinite(f.sigma) for f in opaque]).all(axis=0)
    share = np.array([f.share for f in opaque])
    # The band where some film is farthest from the white tells most of its strength; where no
    # band does, as with another white, there is no order to check.
    apart = np.where(seen, np.abs(table - white), 0.0).max(axis=0)
    band = int(np.argmax(apart))
    if apart[band] < 3.0 * _CLEAR:
        return []
    away = white[band] - table[:, band]
    pull = away * np.sign(away[np.argmax(np.abs(away))])
    tints = [i for i, f in enumerate(opaque) if f.role.kind == TINT]
    wrong = [
        (i, j)
        for i, j in combinations(sorted(tints, key=lambda i: -share[i]), 2)
        # i holds more paint than j, so it should be farther from the white.
        if share[i] > share[j] * 1.001 and pull[i] < pull[j] - _CLEAR
    ]
    problems: list[str] = []
    pairs = len(tints) * (len(tints) - 1) // 2
    if len(tints) > 2 and len(wrong) == pairs:
        problems.append(
            "the tints grow stronger with their white: the columns of paint and white, or the "
            "order of the files, are the wrong way round"
        )
    elif wrong:
        counts = {i: sum(i in pair for pair in wrong) for i in tints}
        most = [i for i in tints if counts[i] == max(counts.values())]
        names = " or ".join(_title(opaque[i]) for i in most)
        problems.append(
            f"tints in the wrong order: {names} is out of line with the others; its reading or its "
            "parts were swapped"
        )
    for i, mass in enumerate(opaque):
        if mass.role.kind != MASSTONE:
            continue
        stronger = [j for j in tints if pull[j] > pull[i] + _CLEAR]
        if stronger and len(stronger) == len(tints):
            problems.append(
                f"{mass.sample} is weaker than every tint: it was swapped with one, or its film is "
                "so thin that a white card shows through"
            )
        elif stronger:
            names = ", ".join(opaque[j].sample for j in stronger)
            problems.append(
                f"{mass.sample} is weaker than {names}: they were swapped, or the masstone isn't "
                "opaque and a white card shows through"
            )
    return problems


def _title(film: Drawdown) -> str:
    return f"{film.sample} ({film.raw[0].where})" if film.raw[0].where else film.sample
