"""A paint ready to be mixed: its optics, where they come from, and how sure they are."""

from __future__ import annotations

import zlib
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from tubewise.pigments import models
from tubewise.pigments.ref import Ref
from tubewise.tubes.tube import Tube

Floats = NDArray[np.float64]

# Row 0 of every stack is the best estimate; the others are drawn from its uncertainty. Fifty
# draws hold a 95th percentile to about a tenth of itself, which is as sure as the models are.
DRAWS = 50

# How far two tubes of one paint differ in pigment load, batch to batch and maker to maker, as a
# standard deviation of its logarithm. common practice, no source.
BATCH_LOAD = 0.12
# How the shade of one pigment differs from maker to maker and batch to batch beyond its load: the
# tilt and bow of its absorption, standard deviations of logarithms. common practice, no source.
BATCH_SHADE = (0.0, 0.05, 0.04)
# Student paint holds about half the pigment of artist paint, the rest is extender that is nearly
# clear in the binder. common practice, no source.
STUDENT_LOAD = 0.55
STUDENT_LOAD_SPREAD = 0.25


@dataclass(frozen=True, slots=True, eq=False)
class Paint:
    """One paint's optics.

    `K`, `S`: (DRAWS + 1, 36); row 0 is the best estimate, the rest samples of its uncertainty.
    `refs` and `shares` give the pigments and their parts of the pigment mixture (sum 1).
    `load` (DRAWS + 1, 1) is the pigment load that is already in K and S, where it is uncertain.
    `basis` is "modelled" or "measured"; `confidence` is "high", "medium" or "low".
    """

    name: str
    tube: Tube | None
    refs: tuple[Ref, ...]
    shares: tuple[float, ...]
    K: Floats
    S: Floats
    basis: str
    confidence: str
    notes: tuple[str, ...] = ()
    load: Floats | None = None

    @property
    def pigments(self) -> tuple[str, ...]:
        """The pigments as a person is told them: a form only where the label shows it."""
        return self.refs if self.tube is None else self.tube.pigments

    def evened(self) -> Paint:
        """The paint with every draw at the best guess of its load.

        Who mixes by eye puts in more of a weak batch; then only the colour's own error is left.
        """
        if self.load is None:
            return self
        even = self.load[0] / self.load
        return replace(self, K=self.K * even, S=self.S * even, load=None)


def seeded(text: str) -> np.random.Generator:
    """A random generator that is the same for the same text on every machine and run."""
    return np.random.default_rng(zlib.crc32(text.encode("utf-8")))


@lru_cache(maxsize=1024)
def pigment_stack(ref: str) -> tuple[Floats, Floats]:
    """K and S of a pigment, (DRAWS + 1, 36) each: best estimate first, then its draws.

    One pigment gives the same draws wherever it appears, so that the error two paints share
    cancels in their difference, as it does in life.
    """
    best = models.optics(ref)
    K, S = models.samples(ref, DRAWS, seeded(best.ref))
    stack = np.vstack([best.K[None], K]), np.vstack([best.S[None], S])
    for values in stack:
        # Shared by every paint of this pigment.
        values.flags.writeable = False
    return stack


def load_draws(tube: Tube) -> Floats:
    """Pigment load of a tube, (DRAWS + 1, 1), 1 being full artist grade; row 0 the best guess."""
    rng = seeded(tube.id)
    student = tube.grade == "student"
    spread = STUDENT_LOAD_SPREAD if student else BATCH_LOAD
    middle = STUDENT_LOAD if student else 1.0
    draws = middle * np.exp(spread * rng.standard_normal(DRAWS))
    return np.concatenate([[middle], draws])[:, None]


# The words in a paint's notes where nobody knows the parts of its pigments.
GUESS = "starting guess"

CONFIDENCE = ("low", "medium", "high")


def least_sure(*levels: str) -> str:
    """The lowest of the given confidence levels."""
    return min(levels, key=CONFIDENCE.index)
