"""How far a pigment's paints may stray, once its facts are known.

Before any colour is known a pigment's curves may move as the prior says. Each fact takes away the
moves that it would show: with J the facts' derivatives by the directions of `pigments.spread`, what
is left has the covariance (P^-1 + J^T J)^-1 (Laplace's approximation about the best fit).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tools.fit.colours import White, fact_residuals
from tools.fit.facts import Fact
from tools.fit.families import Family
from tubewise.colour.arrays import Floats
from tubewise.pigments.register import load
from tubewise.pigments.spread import DIRECTIONS, LEVEL, N, moved


def _by_name(**values: float) -> Floats:
    """Standard deviations (N,) by direction; `K` and `S` stand for all their knots."""
    out = np.zeros(N)
    for i, name in enumerate(DIRECTIONS):
        out[i] = values.get(name, values.get(name[0], 0.0))
    return out


# Before any colour is known: standard deviations from memory of how wide families are.
PRIOR = _by_name(load=0.3, strength=0.6, level=0.5, shift_nm=5.0, windows=0.8, K=0.2, S=0.25)
# A published curve is one paint's, well read; where it hardly absorbs, tints say little of S.
READ = _by_name(load=0.0, strength=0.05, level=0.10, shift_nm=0.5, windows=0.15, K=0.02, S=0.15)
# Between makers. Molecules in one crystal differ in load and grind; what is fired, dug or mixed to
# a shade differs in shade too; what is made by old recipes differs in everything. From memory.
MAKERS = _by_name(load=0.22, strength=0.08, level=0.20, shift_nm=1.0, windows=0.25, K=0.04, S=0.08)
SHADES = _by_name(load=0.25, strength=0.10, level=0.25, shift_nm=3.0, windows=0.30, K=0.08, S=0.10)
RECIPES = _by_name(load=0.40, strength=0.15, level=0.35, shift_nm=4.0, windows=0.50, K=0.14, S=0.15)
WHITES = _by_name(load=0.12, strength=0.3, level=0.05, windows=0.3, K=0.10, S=0.04)
_SHADED = ("cadmium", "natural earth", "iron oxide", "lake", "mixed oxide")
_OLD = ("natural organic", "chromate", "lead", "mercury", "arsenic", "copper", "cyanide")
_OLD_CODES = ("PG18", "PY41", "PR107", "PY38")
# Facts err together more than the formula knows; the first number is set so that intervals hold
# what is left out (see docs/accuracy.md). Facts about rarities are worth less still.
WIDEN = {"medium": 1.2, "low": 1.9}


def makers(ref: str) -> Floats:
    """Standard deviations (N,) between makers of paints of one pigment."""
    pigment, _ = load().resolve(ref)
    if pigment.hue == "white":
        return WHITES
    if pigment.code in _OLD_CODES or any(word in pigment.chem_class for word in _OLD):
        return RECIPES
    return SHADES if any(word in pigment.chem_class for word in _SHADED) else MAKERS


def root_of(covariance: Floats) -> Floats:
    """The symmetric square root of a covariance.

    It keeps directions nearest to themselves, so that equal steps of two pigments mean the same.
    """
    values, vectors = np.linalg.eigh(covariance)
    return np.asarray((vectors * np.sqrt(np.maximum(values, 0.0))) @ vectors.T)


def unknown(
    facts: Sequence[Fact], family: Family, K: Floats, S: Floats, white: White, widen: float
) -> Floats:
    """The symmetric root (N, N) of what facts leave unknown about curves K and S (36,)."""
    prior = PRIOR.copy()
    prior[LEVEL] = family.spread[0]
    step = 0.05 * prior
    ends = [moved(K, S, sign * np.diag(step)) for sign in (1.0, -1.0)]
    J = np.empty((len(fact_residuals(facts, K, S, white)), N))
    for j in range(N):
        up, down = (fact_residuals(facts, k[j], s[j], white) for k, s in ends)
        J[:, j] = (up - down) / (2.0 * step[j])
    inverse = np.diag(1.0 / prior**2) + J.T @ J
    return widen * root_of(np.asarray(np.linalg.inv(inverse), dtype=np.float64))


def read_root(ref: str) -> Floats:
    """The symmetric root (N, N) for a published curve.

    It counts how well the curve was read, and that the paint is itself one maker's.
    """
    return np.diag(np.hypot(READ, makers(ref)))
