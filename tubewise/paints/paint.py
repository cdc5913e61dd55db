"""A paint ready to be mixed: its optics, where they come from, and how sure they are."""

from __future__ import annotations

import zlib
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.pigments import models
from tubewise.pigments.ref import Ref
from tubewise.pigments.spread import LOAD, N, moved
from tubewise.pigments.trust import Basis, Confidence
from tubewise.tubes.tube import Tube

# Row 0 of every stack is the best estimate; the others are drawn from its uncertainty. Fifty
# draws hold a 95th percentile to about a tenth of itself, which is as sure as the models are.
DRAWS = 50

# How far two batches of one maker's paint differ in pigment load, as a standard deviation of its
# logarithm. common practice, no source.
BATCH_LOAD = 0.12
# Student paint holds about half the pigment of artist paint, the rest is extender that is nearly
# clear in the binder; makers differ more in it. common practice, no source.
STUDENT_LOAD = 0.55
STUDENT_LOAD_SPREAD = 0.25

# Of the variance of what is unknown of a pigment, the part that it shares with its family, and with
# its kin: one molecule in one crystal. from memory.
FAMILY_PART = 0.25
KIN_PART = 0.65


@dataclass(frozen=True, slots=True, eq=False)
class Paint:
    """One paint's optics.

    `K`, `S`: (DRAWS + 1, 36); row 0 is the best estimate, the rest samples of its uncertainty.
    `refs` and `shares` give the pigments and their parts of the pigment mixture (sum 1).
    `load` (DRAWS + 1, 1) is the pigment load that is already in K and S, where it is uncertain.
    `contradicted` says that a measured swatch is far from anything its pigments make.
    `basis` is "modelled", "measured (published)" for a pigment of which somebody published a
    measurement, or "measured" for one's own; `confidence` is "high", "medium" or "low".
    """

    name: str
    tube: Tube | None
    refs: tuple[Ref, ...]
    shares: tuple[float, ...]
    K: Floats
    S: Floats
    basis: Basis
    confidence: Confidence
    notes: tuple[str, ...] = ()
    load: Floats | None = None
    contradicted: bool = False

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


@dataclass(frozen=True, slots=True, eq=False)
class Stack:
    """A pigment in one paint: `K`, `S` (DRAWS + 1, 36) and the `load` (DRAWS + 1, 1) within them.

    Row 0 is the best estimate, the others its draws.
    """

    K: Floats
    S: Floats
    load: Floats


@lru_cache(maxsize=4096)
def _latent(what: str) -> Floats:
    """Standard normal steps (DRAWS, directions) of one source of error, by its name.

    Each direction has mean 0 and variance 1 to the last digit, which so few draws need.
    """
    z = seeded(what).standard_normal((DRAWS, N))
    return np.asarray((z - z.mean(axis=0)) / z.std(axis=0))


@lru_cache(maxsize=1024)
def _unknown(ref: str) -> Floats:
    """Steps (DRAWS, directions) of what is unknown of a pigment, the same wherever it appears."""
    spread = models.spread(ref)
    z = (
        np.sqrt(FAMILY_PART) * _latent(f"family {spread.family}")
        + np.sqrt(KIN_PART) * _latent(f"kin {spread.kin}")
        + np.sqrt(1.0 - FAMILY_PART - KIN_PART) * _latent(f"pigment {ref}")
    )
    return np.asarray(z @ spread.unknown)


@lru_cache(maxsize=1024)
def pigment_stack(ref: str, paint: str = "") -> Stack:
    """A pigment as it stands in one paint (`paint` names it), or in any.

    What is unknown of the pigment is drawn once for all its paints, partly for all its family, so
    that it cancels in their difference, as it does in life. How makers differ is drawn for each
    paint.
    """
    best = models.optics(ref)
    steps = np.zeros((DRAWS + 1, N))
    own = _latent(f"maker {paint} {best.ref}") * models.spread(best.ref).makers
    steps[1:] = _unknown(best.ref) + own
    K, S = moved(best.K, best.S, steps)
    stack = Stack(K, S, np.exp(steps[:, LOAD, None]))
    for values in (stack.K, stack.S, stack.load):
        # Shared by every paint of this pigment.
        values.flags.writeable = False
    return stack


def load_draws(tube: Tube) -> Floats:
    """Load of a tube beside its paint's usual one, (DRAWS + 1, 1); row 0 the best guess.

    1 is full artist grade: what batches do, and that student paint holds less.
    """
    rng = seeded(tube.id)
    student = tube.grade == "student"
    spread = STUDENT_LOAD_SPREAD if student else BATCH_LOAD
    middle = STUDENT_LOAD if student else 1.0
    draws = middle * np.exp(spread * rng.standard_normal(DRAWS))
    return np.concatenate([[middle], draws])[:, None]


# The words in a paint's notes where nobody knows the parts of its pigments.
GUESS = "starting guess"
