"""What parts of its pigments make up a tube, solved from the colour of its swatch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.optics.swatch import BESIDE_PARTS, Blend, Swatch, best_match, matched


@dataclass(frozen=True, slots=True, eq=False)
class Composition:
    """A tube's pigment mixture: `shares` (m,), `K` and `S` (draws, bands), `miss` in CIEDE2000.

    `miss` is how far the best estimate stays from the swatch; None without one.
    """

    shares: tuple[float, ...]
    K: Floats
    S: Floats
    miss: float | None


def equal_strength(K: Floats, S: Floats) -> Floats:
    """Shares (m,) at which pigments of K, S (m, bands) pull a mixture equally hard."""
    pull = np.maximum(K.max(axis=-1), S.max(axis=-1))
    shares = 1.0 / pull
    return np.asarray(shares / shares.sum())


def compose(K: Floats, S: Floats, rng: np.random.Generator, swatch: Swatch) -> Composition:
    """Mix pigments K, S (m, draws, bands) so that the masstone matches `swatch`.

    The best estimate is found by damped least squares against its priors (log-parts,
    a gentle bend of the absorption, and glare), from several starts. Each draw is then found in the
    same way for a swatch and priors that are themselves drawn, so that the draws spread as widely
    as what is left unknown (randomised maximum likelihood; Oliver, He & Reynolds 1996, from
    memory).
    """
    m, draws, _ = K.shape
    base = np.log(equal_strength(K[:, 0], S[:, 0]))
    blend = Blend(K=K, S=S, base=base, swatch=swatch)
    # The best estimate is sought from several starts; the draws lie near it and follow from there.
    best = best_match(Blend(K=K[:, :1], S=S[:, :1], base=base, swatch=swatch))
    centre = np.zeros((draws, m + BESIDE_PARTS))
    centre[1:] = rng.standard_normal((draws - 1, m + BESIDE_PARTS)) * blend.prior
    targets = np.tile(swatch.lab, (draws, 1))
    targets[1:] += swatch.error * rng.standard_normal((draws - 1, 3))
    theta, _ = matched(blend, best + centre, targets, centre, rounds=7)
    c, K_mix, S_mix = (v[0] for v in blend.mixture(theta))
    miss = float(delta_e_2000(blend.shown(theta)[0, 0], swatch.lab))
    return Composition(tuple(float(v) for v in c[0]), K_mix, S_mix, miss)
