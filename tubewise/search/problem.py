"""What is asked of the search and what it answers: plain arrays in, plain results out."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats

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
class Proportions:
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

    best: Proportions
    alternatives: tuple[Proportions, ...]
    subsets: int
    evaluated: int
    proved_best: bool
    lower_bound: float
    gap: float
    seconds: float
