"""Blends whose parts nobody knows: every plausible set of parts, likelier ones drawn more often.

What is known without a swatch is a prior: pigments usually stand by quantity, the most first; no
pigment is there for nothing, so that parts of equal tinting strength are the middle; and a name
that promises a pigment says what colour the maker aimed at. A swatch settles it (`composition`).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.difference import delta_e_2000
from tubewise.optics.swatch import PARTS_SPREAD, masstone_lab
from tubewise.paints.composition import Composition, equal_strength
from tubewise.pigments import models
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load

Floats = NDArray[np.float64]

# How many labels list their pigments by quantity, the most first. common practice, no source.
BY_QUANTITY = 0.8
# How near, in CIEDE2000, makers come to the colour that a name promises: one maker's burnt umber
# is not another's. common practice, no source.
AIM_SPREAD = 6.0
_TRIALS = 2_000
# The best trial may weigh no more than so many others, or the draws would all be one.
_LEAST_EFFECTIVE = 20.0


def without_swatch(
    K: Floats,
    S: Floats,
    rng: np.random.Generator,
    *,
    ordered: bool = False,
    aim: Floats | None = None,
) -> Composition:
    """The mixture of pigments K, S (m, draws, bands) whose parts nobody knows.

    Every draw takes parts of its own, so that what follows from the mixture spreads over all that
    is plausible. `ordered` and `aim` as in `plausible_shares`.
    """
    m, draws, _ = K.shape
    if m == 1:
        return Composition((1.0,), K[0], S[0], None)
    shares = plausible_shares(K[:, 0], S[:, 0], rng, draws, ordered=ordered, aim=aim)
    return Composition(
        tuple(float(v) for v in shares[0]),
        np.einsum("dm,mdb->db", shares, K),
        np.einsum("dm,mdb->db", shares, S),
        None,
    )


def aimed_at(name: str) -> Floats | None:
    """CIELAB (3,) of the masstone that a paint's name promises, or None where it promises none."""
    register = load()
    for promise in register.promises(name):
        if promise.strength != "pigment":
            continue
        pigment = register.get(promise.codes[0])
        if pigment is None:
            continue
        form = pigment.form_revealed_by(name) or pigment.default_form
        best = models.optics(Ref.of(pigment.code, form.name if form else ""))
        return masstone_lab(best.K, best.S)
    return None


def plausible_shares(
    K: Floats,
    S: Floats,
    rng: np.random.Generator,
    draws: int,
    *,
    ordered: bool = False,
    aim: Floats | None = None,
) -> Floats:
    """Shares (draws, m) of pigments of K, S (m, bands): row 0 the middle, the others drawn.

    `ordered` says that the pigments stand in a label's order; `aim` is the CIELAB (3,) of the
    masstone that the name promises.
    """
    m = len(K)
    logs = np.log(equal_strength(K, S)) + PARTS_SPREAD * rng.standard_normal((_TRIALS, m))
    shares = np.exp(logs - logs.max(axis=1, keepdims=True))
    shares /= shares.sum(axis=1, keepdims=True)
    weight = np.ones(_TRIALS)
    if ordered:
        falling = (np.diff(shares, axis=1) <= 0.0).all(axis=1)
        met = float(falling.mean())
        if 0.0 < met < 1.0:
            weight *= np.where(falling, BY_QUANTITY / met, (1.0 - BY_QUANTITY) / (1.0 - met))
    if aim is not None:
        miss = delta_e_2000(masstone_lab(shares @ K, shares @ S), aim)
        weight *= _likeness(np.asarray(miss), weight)
    weight /= weight.sum()
    # Systematic resampling (Kitagawa 1996, from memory): as even as draws by weight can be.
    at = (np.arange(draws - 1) + rng.random()) / (draws - 1)
    kept = np.minimum(np.searchsorted(np.cumsum(weight), at), _TRIALS - 1)
    return np.concatenate([(weight @ shares)[None], shares[kept]])


def _likeness(miss: Floats, prior: Floats) -> Floats:
    """How likely a maker's aim leaves each miss (n,), in CIEDE2000.

    Measured from the nearest that these pigments can come, and more freely where few trials come
    near, so that no single one decides.
    """
    over = miss - miss.min()
    spread = AIM_SPREAD
    while True:
        like = np.exp(-0.5 * (over / spread) ** 2)
        w = like * prior
        if w.sum() ** 2 / (w**2).sum() >= _LEAST_EFFECTIVE:
            return np.asarray(like)
        spread *= 1.5
