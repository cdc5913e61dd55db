"""What a painter would rather not reach for, in CIEDE2000 that it must bring to be worth it.

Lead, mercury and chromate are left where they are as long as an ordinary paint comes near; what
fades or is no longer made, an unusual tube, a further paint, parts that nobody counts and bright
paints that dull each other are each a nuisance. All of it: data/reluctance.csv and
data/usual_palette.csv.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import combinations
from pathlib import Path
from typing import Final

import numpy as np

from tubewise.advice.purpose import remarks
from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance, lch_from_lab
from tubewise.paints.appearance import appearance
from tubewise.paints.paint import Paint
from tubewise.paints.wash import is_water
from tubewise.pigments.opacity import COVERING, opacity_of
from tubewise.pigments.permanence import cautions
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.tables import Faults, read_rows
from tubewise.pigments.terms import NOTE_KINDS

_DATA = Path(__file__).parents[1] / "data"
TOXIC: Final = "toxic"
# What is no property of a pigment, by the words of the table.
UNUSUAL = "not usual"
FURTHER, UNCOUNTED, TINT_FIRST, VEILED, DULLED = (
    "further paint",
    "more parts than 1 : 8",
    "a tint mixed first",
    "opaque where transparent is wanted",
    "bright paints that dull each other",
)
_OTHERS = (UNUSUAL, FURTHER, UNCOUNTED, TINT_FIRST, VEILED, DULLED)
# A paint is brighter than a colour by so much chroma; between so much of its chroma lost, and so
# much, the nuisance grows from nothing to all of it; a colour of less chroma is a grey, which
# complementaries make well. common practice, no source.
BRIGHTER = 10.0
LOST_FROM, LOST_TO = 0.45, 0.65
GREY = 12.0
# Parts of an ideal white, which scatters 1 and absorbs nothing, among which a tint is strongest.
WHITE_PARTS: Final = np.array([0.0, 0.3, 1.0, 3.0, 10.0, 30.0, 100.0])[:, None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Weights:
    """The table: `toxic` classes of caution, and what `notes` and `others` must bring."""

    toxic: frozenset[str]
    notes: dict[str, float]
    others: dict[str, float]


def is_toxic(refs: Iterable[str]) -> bool:
    """Whether a pigment holds lead, mercury, chromate or arsenic."""
    return any(caution.kind in weights().toxic for caution in cautions(refs))


def trouble(paint: Paint, medium: str, clear: bool = False) -> float:
    """What one paint must bring, CIEDE2000: fades, flakes or is no longer made there; unusual.

    Where a `clear`, transparent paint is wanted, one that covers must bring something too.
    """
    noted = max((weights().notes[r.kind] for r in remarks(paint.refs, medium)), default=0.0)
    usual = all(Ref(ref).code in usual_codes() for ref in paint.refs)
    veils = clear and opacity_of(paint.refs) in COVERING
    others = weights().others
    return noted + (0.0 if usual else others[UNUSUAL]) + (others[VEILED] if veils else 0.0)


def dulled(target: Floats, paints: Sequence[Paint], parts: Sequence[float]) -> float:
    """How far bright paints of a mixture dull each other to reach a dull colour, 0 to 1.

    Where an earth would be near, orange and turquoise are a detour; an earth in them is none, and
    a grey is made well so. `target` (3,) is CIELAB. Two paints lose what the strongest tint of
    their mixture lacks of the chroma of their own.
    """
    wanted = float(lch_from_lab(target)[1])
    if wanted < GREY:
        return 0.0
    shares = [
        (paint, part, chroma)
        for paint, part in zip(paints, parts, strict=True)
        if not is_water(paint) and not _is_earth(paint)
        if (chroma := _strongest(paint.K[0], paint.S[0])) > wanted + BRIGHTER
    ]
    most = 0.0
    for (a, m, first), (b, n, second) in combinations(shares, 2):
        K, S = ((m * x[0] + n * y[0]) / (m + n) for x, y in ((a.K, b.K), (a.S, b.S)))
        lost = 1.0 - 2.0 * _strongest(K, S) / (first + second)
        most = max(most, (lost - LOST_FROM) / (LOST_TO - LOST_FROM))
    return min(most, 1.0)


def _strongest(K: Floats, S: Floats) -> float:
    """The most chroma that paint of K, S (36,) shows: by itself or with some white."""
    tints = appearance(np.broadcast_to(K, (len(WHITE_PARTS), len(K))), S + WHITE_PARTS)
    return float(lch_from_lab(lab_from_reflectance(tints))[:, 1].max())


def _is_earth(paint: Paint) -> bool:
    """Whether a paint is of iron oxides, natural or made: dull in itself."""
    classes = [load().resolve(ref)[0].chem_class for ref in paint.refs]
    return any("iron oxide" in kind or "earth" in kind for kind in classes)


# ---------------------------------------------------------------- the tables


def read_weights(path: Path) -> Weights:
    """What each nuisance must bring. Raises UserError for each fault, a missing row included."""
    faults = Faults(path.name)
    toxic: set[str] = set()
    known: dict[str, dict[str, float]] = {"note": {}, "palette": {}, "mixture": {}}
    for row in read_rows(path, ("of", "what", "trouble", "source")):
        if not row["source"]:
            faults.add(row, "source", "must not be empty")
        if row["of"] == "caution":
            if row["trouble"] != TOXIC:
                faults.add(row, "trouble", f"must be {TOXIC}")
            toxic.add(row["what"])
        elif row["of"] not in known:
            faults.add(row, "of", f"must be caution, {', '.join(known)}")
        else:
            try:
                value = float(row["trouble"])
            except ValueError:
                faults.add(row, "trouble", "must be a number of CIEDE2000")
                continue
            if not 0.0 <= value <= 10.0:
                faults.add(row, "trouble", "must lie between 0 and 10")
            known[row["of"]][row["what"]] = value
    others = known["palette"] | known["mixture"]
    missing = [n for n in NOTE_KINDS if n not in known["note"]]
    missing += [n for n in _OTHERS if n not in others]
    if missing:
        faults.problems.append(f"nothing is said of {', '.join(missing)}")
    faults.raise_if_any()
    return Weights(toxic=frozenset(toxic), notes=known["note"], others=others)


def read_usual(path: Path) -> frozenset[str]:
    """The codes that stand on most palettes. Raises UserError for one that nobody knows."""
    faults = Faults(path.name)
    codes: set[str] = set()
    for row in read_rows(path, ("pigments", "place", "source")):
        for column in ("place", "source"):
            if not row[column]:
                faults.add(row, column, "must not be empty")
        for code in row.listed("pigments"):
            if load().get(code) is None:
                faults.add(row, "pigments", f"{code} is not in the register")
            codes.add(code)
    faults.raise_if_any()
    return frozenset(codes)


@lru_cache(maxsize=1)
def weights() -> Weights:
    """The table as it is shipped."""
    return read_weights(_DATA / "reluctance.csv")


@lru_cache(maxsize=1)
def usual_codes() -> frozenset[str]:
    """The usual palette as it is shipped."""
    return read_usual(_DATA / "usual_palette.csv")
