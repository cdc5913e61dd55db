"""What is asked of the search and what it answers: plain arrays in, plain results out."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Objective = Literal["one light", "worst light", "spectral"]
Kind = Literal["best", "fewer paints", "other paints", "cheaper", "premixed"]
LARGEST_SET = 6


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SearchProblem:
    """A target, a box of paints and the wishes.

    `K`, `S` (n, 36): absorption and scattering of the n paints, white S = 1 at 560 nm.
    `weights` (36, 3) or (lights, 36, 3): ASTM E308 weights; `whites` (3,) or (lights, 3).
    `target_lab` (3,) or (lights, 3) and/or `target_reflectance` (36,), measured 0..1 ("spectral"
    needs the latter; without `target_lab` it is computed).
    `objective`: "one light" is CIEDE2000 under the first light; "worst light" the largest over all
    lights; "spectral" 100 times the root-mean-square difference of reflectance.
    `max_paints` 1..6, beyond 4 without proof; `max_parts` the largest total of whole parts, None
    for any proportions.
    `must`, `must_not`: rows of K. `min_share` 0..1: the smallest share a brush can pick up.
    `film_thickness` None for an opaque film, else X over `ground` (36,), measured reflectance.
    `family` (n,) of whole numbers: no recipe holds two paints of one family, unless both are
    required (two tubes of one pigment make nothing new); None when each is its own.
    `price` (n,) per volume, only to offer a cheaper recipe. `penalty` (n,) >= 0: added to the
    objective for every paint used; `per_paint` >= 0: likewise for each paint beyond the first.
    `k1`, `k2`, `specular_included`: the surface (Saunderson 1942).
    `tolerance`: in units of the objective. Sets of paints are ruled out when they can't be better
    by more; costs within 0.002 count as equal, and then fewer paints win. The search is "proved"
    when no recipe is better than the answer by more than both together: 0.01 as it stands.
    `alternatives`: how many further recipes to list; `seconds`: stop proving after so long;
    `prove` False: don't begin, take the first good answers.
    `beam`: how many partial recipes the first, unproved search keeps.
    """

    K: Floats
    S: Floats
    weights: Floats
    whites: Floats
    target_lab: ArrayLike | None = None
    target_reflectance: ArrayLike | None = None
    objective: Objective = "one light"
    max_paints: int = 4
    max_parts: int | None = None
    must: tuple[int, ...] = ()
    must_not: tuple[int, ...] = ()
    min_share: float = 0.0
    film_thickness: float | None = None
    ground: ArrayLike | None = None
    family: ArrayLike | None = None
    price: ArrayLike | None = None
    penalty: ArrayLike | None = None
    per_paint: float = 0.0
    k1: float = 0.03
    k2: float = 0.65
    specular_included: bool = True
    tolerance: float = 0.008
    alternatives: int = 4
    seconds: float = 20.0
    prove: bool = True
    beam: int = 48


@dataclass(frozen=True, slots=True, eq=False)
class Found:
    """One recipe: rows of K, their shares by volume (sum 1) and, if asked, whole parts.

    `value` is the objective without penalties, `cost` with them; `lab` (lights, 3) and
    `delta_e00` (lights,) the predicted colour and its distance from the target under each light;
    `reflectance` (36,). `kind` says why it is listed.
    """

    indices: tuple[int, ...]
    shares: tuple[float, ...]
    parts: tuple[int, ...] | None
    value: float
    cost: float
    lab: Floats
    delta_e00: Floats
    reflectance: Floats
    kind: Kind = "best"


@dataclass(frozen=True, slots=True, eq=False)
class SearchResult:
    """The best recipe, others that differ in kind, and what is known about optimality.

    `lower_bound`: no recipe of the kind asked for has a cost below it; `gap` = best.cost minus
    that. `proved_best` only if the gap is within the problem's tolerance. `subsets`: how many sets
    of paints the answer covers; `evaluated`: mixtures computed while proving; `seconds` spent.
    """

    best: Found
    alternatives: tuple[Found, ...]
    subsets: int
    evaluated: int
    proved_best: bool
    lower_bound: float
    gap: float
    seconds: float


@dataclass(frozen=True, slots=True, eq=False)
class Prepared:
    """A problem as the kernels want it: contiguous arrays, only the paints that may be used."""

    rows: NDArray[np.int64]
    K: Floats
    S: Floats
    unit: Floats
    W: Floats
    target: Floats
    goal: Floats
    medium: Floats
    ground: Floats
    penalty: Floats
    family: NDArray[np.int64]
    must: tuple[int, ...]
    ask: SearchProblem = field(repr=False)

    @property
    def args(self) -> tuple[Floats, Floats, Floats, Floats, Floats]:
        """The arguments every kernel takes last."""
        return self.medium, self.ground, self.W, self.target, self.goal


def prepare(ask: SearchProblem) -> Prepared:
    """Check a problem and lay it out for the kernels.

    ValueError for wrong shapes and for wishes that clash.
    """
    K = np.ascontiguousarray(ask.K, dtype=np.float64)
    S = np.ascontiguousarray(ask.S, dtype=np.float64)
    if K.ndim != 2 or K.shape[1] != 36 or K.shape != S.shape:
        raise ValueError(f"K and S must both be (n, 36), not {K.shape} and {S.shape}")
    if not (np.isfinite(K).all() and np.isfinite(S).all() and (K >= 0).all() and (S >= 0).all()):
        raise ValueError("K and S must be finite and not negative")
    if not 1 <= ask.max_paints <= LARGEST_SET:
        raise ValueError(f"max_paints must be 1 to {LARGEST_SET}, not {ask.max_paints}")
    if set(ask.must) & set(ask.must_not):
        raise ValueError("a paint cannot be both required and forbidden")
    if len(set(ask.must)) > ask.max_paints:
        raise ValueError("more paints are required than the recipe may have")
    if ask.max_parts is not None and ask.max_parts < max(1, len(set(ask.must))):
        raise ValueError("max_parts leaves no part for every required paint")
    rows = np.array([i for i in range(len(K)) if i not in set(ask.must_not)], dtype=np.int64)
    if not rows.size:
        raise ValueError("no paint is left to choose from")
    weights = np.asarray(ask.weights, dtype=np.float64).reshape(-1, 36, 3)
    whites = np.asarray(ask.whites, dtype=np.float64).reshape(-1, 3)
    if ask.objective == "one light":
        weights, whites = weights[:1], whites[:1]
    W = np.ascontiguousarray((weights / whites[:, None, :]).transpose(0, 2, 1))
    goal = np.full(36, np.nan)
    if ask.objective == "spectral":
        if ask.target_reflectance is None:
            raise ValueError("the spectral objective needs a target reflectance")
        goal = np.asarray(ask.target_reflectance, dtype=np.float64).copy()
    if ask.target_lab is None:
        if ask.target_reflectance is None:
            raise ValueError("a target colour or a target reflectance is needed")
        target = labs_of(np.asarray(ask.target_reflectance, dtype=np.float64), W)
    else:
        target = np.asarray(ask.target_lab, dtype=np.float64).reshape(-1, 3)
        if len(target) < len(W):
            raise ValueError("one target colour is needed for each light")
        target = np.ascontiguousarray(target[: len(W)])
    film = ask.film_thickness is not None
    base = ask.k1 if ask.specular_included else 0.0
    gain = (1.0 - ask.k1) * (1.0 - ask.k2)
    ground = np.zeros(36)
    if film:
        measured = np.asarray(1.0 if ask.ground is None else ask.ground, dtype=np.float64)
        inner = np.clip(np.broadcast_to(measured, (36,)) - base, 0.0, None)
        ground = np.clip(inner / (gain + ask.k2 * inner), 0.0, 1.0)
    place = {int(row): i for i, row in enumerate(rows)}
    penalty = np.zeros(len(K)) if ask.penalty is None else np.asarray(ask.penalty, dtype=float)
    must = tuple(sorted({place[i] for i in ask.must}))
    return Prepared(
        rows=rows,
        K=np.ascontiguousarray(K[rows]),
        S=np.ascontiguousarray(S[rows]),
        unit=strength_units(K[rows], S[rows], film),
        W=W,
        target=target,
        goal=goal,
        medium=np.array([ask.k2, gain, base, ask.film_thickness or 0.0]),
        ground=np.ascontiguousarray(ground),
        penalty=np.ascontiguousarray(penalty[rows]),
        family=_families(ask, rows, must),
        must=must,
        ask=ask,
    )


def _families(
    ask: SearchProblem, rows: NDArray[np.int64], must: tuple[int, ...]
) -> NDArray[np.int64]:
    """The family of each paint that may be used; required paints of one family are parted."""
    if ask.family is None:
        return np.arange(len(rows))
    family = np.asarray(ask.family, dtype=np.int64)
    if family.shape != (len(ask.K),):
        raise ValueError(f"family must be ({len(ask.K)},), not {family.shape}")
    family = family[rows]
    met: set[int] = set()
    for i in must:
        if int(family[i]) in met:
            family[i] = family.max() + 1
        met.add(int(family[i]))
    return family


def strength_units(K: Floats, S: Floats, film: bool) -> Floats:
    """Volume of each paint (n,) in one unit of amount: 1/mean(K+S); 1 for films.

    An opaque mixture keeps its colour when a paint's K, S and amount are rescaled together, so
    amounts can be counted in units of strength, where half and half lies half-way in appearance.
    A film's colour depends on the absolute K and S of the mixture, so there amounts are shares.
    """
    if film:
        return np.ones(len(K))
    return np.asarray(1.0 / np.maximum((K + S).mean(axis=1), 1e-12), dtype=np.float64)


def labs_of(reflectance: Any, W: Floats) -> Floats:
    """CIELAB (lights, 3) of a reflectance (36,) with weights over white `W` (lights, 3, 36)."""
    x = W @ reflectance
    f = np.where(x > 216 / 24389, np.cbrt(x), (24389 / 27 * x + 16) / 116)
    return np.stack(
        [116 * f[:, 1] - 16, 500 * (f[:, 0] - f[:, 1]), 200 * (f[:, 1] - f[:, 2])], axis=1
    )
