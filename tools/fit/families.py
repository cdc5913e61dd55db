"""What pigments of one family have in common: how they scatter.

Masstones and tints say little of a paint's scattering, so it is mostly borrowed from its family:
the level, its slope, the dip below the absorption edge, the peak past it, and bronze. Each family's
middle starts from memory (data/optics_families.csv) and moves towards those of its members that
were measured, as far as their number warrants (a hierarchical prior, by the normal formulas). In
the same way it learns how its absorption differs from what the chemistry's numbers say: how much is
left in the windows, how steep edges are, how wide bands.
"""

from __future__ import annotations

import csv
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from pathlib import Path

import numpy as np

from tools.fit.facts import Fact, last
from tubewise.colour.arrays import Floats
from tubewise.errors import UserError
from tubewise.pigments.curves import (
    BELOW,
    BRONZE,
    LEVEL,
    N_SCATTER,
    PEAK,
    PEAK_NM,
    SLOPE,
    STEP_NM,
    STEP_WIDTH,
)
from tubewise.pigments.models import DATA
from tubewise.pigments.register import load

# The numbers a family shares, in the order of `Family.middle`: logarithms, but for the slope.
SHARED = (LEVEL, SLOPE, BELOW, BRONZE, PEAK, PEAK_NM)
# Standard deviations of the same, of one member about its family's middle, but for the level, which
# the file gives. The middle itself is as uncertain to begin with. From memory.
SPREAD = np.array([np.nan, 0.6, 0.4, 0.4, 0.4, 0.3])
# What a family learns of its absorption, logarithms of factors on the chemistry's start.
WINDOW, STEEPNESS, WIDTH = range(3)
N_HABITS = 3
# Below this a share of zero has no logarithm; nothing that small shows.
_LEAST = 1e-4
NO_STEP_NM = 500.0
NO_STEP_WIDTH = 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Family:
    """A family's scattering: `middle` and `spread` (6,) of its members by `SHARED`.

    `habits` (3,) are logarithms of factors on the chemistry's floor, on the decay of its edges and
    on the width of its bands. Families that are `akin` have all but the level in common. `measured`
    names the members whose measurement moved the level.
    """

    name: str
    akin: str
    middle: Floats
    spread: Floats
    habits: Floats = field(default_factory=lambda: np.zeros(N_HABITS))
    measured: tuple[str, ...] = ()

    def scatter(self, step: tuple[float, float] | None) -> Floats:
        """Scattering parameters (8,) of its middle, for a step at (nm, width) or without one."""
        out = np.zeros(N_SCATTER)
        for i, at in enumerate(SHARED):
            out[at] = self.middle[i] if at == SLOPE else np.exp(self.middle[i])
        if step is None:
            out[[STEP_NM, STEP_WIDTH, BELOW, PEAK]] = NO_STEP_NM, NO_STEP_WIDTH, 1.0, 0.0
        else:
            out[[STEP_NM, STEP_WIDTH]] = step
        out[BELOW] = min(out[BELOW], 1.0)
        return out


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """What one measured pigment tells its family: `scatter` (8,) and `habits` (3,).

    A habit that the pigment has no term for is not a number.
    """

    scatter: Floats
    habits: Floats


def shared_numbers(scatter: Floats) -> Floats:
    """The numbers (6,) that a family shares, of one pigment's scattering parameters (8,)."""
    values = scatter[list(SHARED)]
    logs = np.log(np.maximum(values, _LEAST))
    return np.where(np.array(SHARED) == SLOPE, values, logs)


@dataclass(frozen=True, slots=True)
class Families:
    """The families by name, and which pigment belongs to which by ref, code or class."""

    by_name: Mapping[str, Family]
    members: Mapping[str, str]

    def of(self, ref: str) -> Family:
        """A pigment's family: named by its ref, its code, its class and opacity, or its class.

        Raises UserError where the file has none.
        """
        pigment, form = load().resolve(ref)
        opacity = (form.opacity if form else "") or pigment.opacity
        keys = (ref, pigment.code, f"{pigment.chem_class}, {opacity}", pigment.chem_class)
        for key in keys:
            if key in self.members:
                return self.by_name[self.members[key]]
        raise UserError(f"{ref} ({keys[2]}) belongs to no family of optics_families.csv")

    def learnt(self, seen: Mapping[str, Seen]) -> Families:
        """The families after their measured members, by ref."""
        homes = {ref: self.of(ref) for ref in sorted(seen)}
        by_name = {
            name: _learnt(
                family,
                {ref: seen[ref] for ref, home in homes.items() if home.name == name},
                [seen[ref] for ref, home in homes.items() if home.akin == family.akin],
            )
            for name, family in self.by_name.items()
        }
        return Families(by_name, self.members)


def _learnt(family: Family, own: Mapping[str, Seen], akin: Sequence[Seen]) -> Family:
    """A family after its own measured members, for the level, and all that are akin, for the rest.

    Middle and member each have half of the spread's variance to begin with.
    """
    found = np.array([shared_numbers(member.scatter) for member in akin]).reshape(-1, len(SHARED))
    levels = np.array([shared_numbers(member.scatter)[0] for member in own.values()])
    # A member without a step says nothing of dips and peaks.
    stepped = np.array([member.scatter[PEAK] > 0.0 for member in akin], dtype=bool)
    counts = np.ones(found.shape, dtype=bool)
    counts[~stepped] = ~np.isin(SHARED, (BELOW, PEAK, PEAK_NM))
    n = counts.sum(axis=0)
    total = np.where(counts, found, 0.0).sum(axis=0)
    n[0], total[0] = len(levels), levels.sum()
    within = family.spread**2 / 2.0
    habits = np.array([member.habits for member in akin]).reshape(-1, N_HABITS)
    known = np.isfinite(habits)
    return replace(
        family,
        middle=(family.middle + total) / (1.0 + n),
        spread=np.sqrt(within * (1.0 + 1.0 / (1.0 + n))),
        habits=np.where(known, habits, 0.0).sum(axis=0) / (1.0 + known.sum(axis=0)),
        measured=tuple(own),
    )


@lru_cache(maxsize=4)
def read_families(path: Path = DATA / "optics_families.csv") -> Families:
    """The families as the file has them. Raises UserError with the line of a bad row."""
    by_name: dict[str, Family] = {}
    members: dict[str, str] = {}
    columns = ("level", "power", "below", "bronze", "peak", "fade_nm")
    with path.open(encoding="utf-8", newline="") as file:
        for line, row in enumerate(csv.DictReader(file), start=2):
            try:
                values = np.array([float(row[column]) for column in columns])
                level_spread = float(row["level_sd"])
            except ValueError as error:
                raise UserError(
                    f"not a number: {error}", where=f"{path.name}, line {line}"
                ) from None
            middle = np.where(np.array(SHARED) == SLOPE, values, np.log(np.maximum(values, _LEAST)))
            spread = np.where(np.array(SHARED) == LEVEL, level_spread, SPREAD)
            by_name[row["family"]] = Family(
                name=row["family"],
                akin=row["akin"] or row["family"],
                middle=middle,
                spread=spread,
            )
            for member in row["members"].split(";"):
                members[member.strip()] = row["family"]
    return Families(by_name, members)


def with_own_level(family: Family, facts: Iterable[Fact]) -> Family:
    """The family as one pigment starts from it: with its own stated level, where a fact gives one.

    The tolerance of such a fact is that of its logarithm, in units of 0.3.
    """
    fact = last(facts, "level")
    if fact is None:
        return family
    middle, spread = family.middle.copy(), family.spread.copy()
    middle[0] = np.log(fact.numbers[0])
    spread[0] = 0.3 * fact.tolerance
    return replace(family, middle=middle, spread=spread)
