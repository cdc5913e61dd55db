"""A pigment's numbers as the fit moves them from a start, by parameters that are 0 at it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from tools.fit.facts import Fact
from tools.fit.families import (
    N_HABITS,
    NO_STEP_NM,
    NO_STEP_WIDTH,
    SHARED,
    STEEPNESS,
    WINDOW,
    Family,
)
from tools.fit.families import WIDTH as BAND_WIDTH
from tubewise.colour.arrays import Floats
from tubewise.pigments.curves import BELOW, N_SCATTER, PEAK, SLOPE, STEP_NM, STEP_WIDTH
from tubewise.pigments.models import Shape, parse_terms

# One standard deviation of what the fit may change, from memory of how far bands move between
# crystals, grinds and makers.
STRENGTH = 3.0  # log, all of K; the share facts decide
SHIFT_NM = 5.0  # all terms together
PLACE_NM = 4.0  # each term
WIDTH = 0.20  # log
HEIGHT = 0.45  # log
FLOOR = 0.9  # log
FLOOR_POWER = 0.7


@dataclass(frozen=True, slots=True, kw_only=True)
class Start:
    """Where a fit starts: the chemistry's bands, edges and floor, and the family's scattering.

    `step` is the (nm, width) past which scattering rises, None without one. `freedom` multiplies
    the standard deviations of the absorption terms.
    """

    bands: Floats
    edges: Floats
    floor: Floats
    step: tuple[float, float] | None
    family: Family
    freedom: float = 1.0

    @property
    def terms(self) -> int:
        """How many bands and edges there are."""
        return len(self.bands) + len(self.edges)

    @property
    def size(self) -> int:
        """How many parameters the fit has."""
        return 2 + 3 * self.terms + 2 + len(SHARED)

    def shape(self, theta: Floats) -> Shape:
        """The shape moved by `theta` (size,), in standard deviations; all zero is the start."""
        n = self.terms
        places, widths, heights = np.split(theta[2 : 2 + 3 * n], 3)
        tail = theta[2 + 3 * n :]
        strength = theta[0] * STRENGTH
        shift = theta[1] * SHIFT_NM * self.freedom
        moved = np.vstack([self.bands, self.edges]).copy()
        moved[:, 0] += shift + places * PLACE_NM * self.freedom
        moved[:, 1] *= np.exp(widths * WIDTH * self.freedom)
        moved[:, 2] *= np.exp(heights * HEIGHT * self.freedom + strength)
        floor = np.array(
            (
                self.floor[0] * np.exp(tail[0] * FLOOR * self.freedom + strength),
                self.floor[1] + tail[1] * FLOOR_POWER,
            )
        )
        nb = len(self.bands)
        return Shape(moved[:nb], moved[nb:], floor, self._scatter(tail[2:], shift))

    def _scatter(self, theta: Floats, shift: float) -> Floats:
        out = np.zeros(N_SCATTER)
        numbers = self.family.middle + theta * self.family.spread
        for i, at in enumerate(SHARED):
            out[at] = numbers[i] if at == SLOPE else np.exp(numbers[i])
        if self.step is None:
            out[[STEP_NM, STEP_WIDTH, BELOW, PEAK]] = NO_STEP_NM, NO_STEP_WIDTH, 1.0, 0.0
        else:
            out[STEP_NM], out[STEP_WIDTH] = self.step[0] + shift, self.step[1]
        out[BELOW] = min(out[BELOW], 1.0)
        return out


def habits(start: Start, shape: Shape) -> Floats:
    """How a fitted shape differs from its start by what a family shares (3,), in logarithms.

    Not a number where it has no such term.
    """

    def mean(fitted: Floats, before: Floats) -> float:
        return float(np.log(fitted[:, 1] / before[:, 1]).mean()) if len(before) else float("nan")

    out = np.empty(N_HABITS)
    out[WINDOW] = np.log(shape.floor[0] / start.floor[0])
    out[STEEPNESS] = mean(shape.edges, start.edges)
    out[BAND_WIDTH] = mean(shape.bands, start.bands)
    return out


def start_of(facts: Iterable[Fact], family: Family, freedom: float = 1.0) -> Start:
    """A pigment's start from its facts and its family's habits.

    At first absorption is known only in relation.
    """
    window, decay, width = np.exp(family.habits)
    by_kind = {fact.kind: fact for fact in facts}

    def terms(kind: str) -> Floats:
        return parse_terms(by_kind[kind].value) if kind in by_kind else np.zeros((0, 3))

    step = by_kind["step"].numbers if "step" in by_kind else None
    return Start(
        bands=terms("bands") * np.array([1.0, width, 1.0]),
        edges=terms("edges") * np.array([1.0, decay, 1.0]),
        floor=np.array(by_kind["floor"].numbers) * np.array([window, 1.0]),
        step=(step[0], step[1]) if step else None,
        family=family,
        freedom=freedom,
    )
