"""What parts of its pigments make up a tube, solved from the colour of its swatch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import opaque_reflectance
from tubewise.optics.surface import gloss_read, measured_from_internal

# How far we let a swatch bend what we believe. The parts of a recipe by a stranger are known to
# a factor of three or so; a single pigment's absorption is known better, and its swatch may only
# raise, tilt or bow it. Standard deviations of logarithms. common practice, no source.
PARTS_SPREAD = 1.1
BEND_SPREAD = np.array([0.30, 0.20, 0.15])
# A measured swatch is good to about one CIELAB unit; a screen colour is only a hint.
SWATCH_ERROR = 1.0
SCREEN_ERROR = 6.0
# No film is quite smooth, so that some of its skin is read whatever the geometry: this much
# reflectance more or less than a gloss film's. It is all there is to a dark masstone's reading, and
# nothing in a light one's. common practice, no source.
GLARE = 0.006
_LEAST_READING = 5e-4
# No swatch, however odd, bends a pigment or brightens its skin by more than so many standard
# deviations: then the label is wrong, or the swatch.
_MOST = 3.0
# What a swatch is taken for when nothing says how it was read: 45/0 instruments, scanners and
# cameras see no mirror reflection.
USUAL_GEOMETRY = "excluded"

_POSITION = (WAVELENGTHS_NM - 555.0) / 175.0
_BENDS = np.stack([np.ones_like(_POSITION), _POSITION, _POSITION**2 - 1.0 / 3.0])


@dataclass(frozen=True, slots=True, eq=False)
class Composition:
    """A tube's pigment mixture: `shares` (m,), `K` and `S` (draws, bands), `miss` in CIEDE2000.

    `miss` is how far the best estimate stays from the swatch; None without one.
    """

    shares: tuple[float, ...]
    K: Floats
    S: Floats
    miss: float | None


def masstone_lab(
    K: ArrayLike, S: ArrayLike, geometry: str = "included", glare: ArrayLike = 0.0
) -> Floats:
    """CIELAB (..., 3) of an opaque film of K, S (..., 36), read with the mirror reflection
    `included` or `excluded`; `glare` (...) is reflectance of its skin besides."""
    R = measured_from_internal(opaque_reflectance(K, S), gloss_read(geometry))
    more = np.asarray(glare, dtype=np.float64)[..., None]
    return lab_from_reflectance(np.maximum(R + more, _LEAST_READING))


def equal_strength(K: Floats, S: Floats) -> Floats:
    """Shares (m,) at which pigments of K, S (m, bands) pull a mixture equally hard."""
    pull = np.maximum(K.max(axis=-1), S.max(axis=-1))
    shares = 1.0 / pull
    return np.asarray(shares / shares.sum())


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Swatch:
    """The colour of a masstone, `lab` CIELAB (3,) D65/2°, good to `error` units.

    `geometry` says whether the mirror reflection of its skin was `excluded` or `included`.
    """

    lab: Floats
    error: float = SWATCH_ERROR
    geometry: str = USUAL_GEOMETRY


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
    leads = [np.zeros(m)] if m == 1 else [np.zeros(m), *(np.eye(m) * 1.5), *(np.eye(m) * -1.5)]
    size = m + _BESIDE
    starts = np.zeros((len(leads), 1, size))
    starts[:, 0, :m] = leads
    # The best estimate is sought from every start; the draws lie near it and follow from there.
    centre = np.zeros((draws, size))
    target = swatch.lab[None]
    theta, cost = _matched(starts, K[:, :1], S[:, :1], base, swatch, target, centre[:1], rounds=14)
    best = theta[cost[:, 0].argmin()]
    centre[1:] = rng.standard_normal((draws - 1, size)) * _prior(m)
    targets = np.tile(swatch.lab, (draws, 1))
    targets[1:] += swatch.error * rng.standard_normal((draws - 1, 3))
    first = np.broadcast_to(best, (1, draws, size)).copy() + centre
    theta, _ = _matched(first, K, S, base, swatch, targets, centre, rounds=7)
    c, K_mix, S_mix = (v[0] for v in _mixture(theta, K, S, base))
    shown = masstone_lab(K_mix[0], S_mix[0], swatch.geometry, _glare(theta[:, 0])[0])
    miss = float(delta_e_2000(shown, swatch.lab))
    return Composition(tuple(float(v) for v in c[0]), K_mix, S_mix, miss)


# The parameters beside the log-parts, in standard deviations: three of the bend, one of glare.
_BESIDE = 4


def _bounded(steps: Floats) -> Floats:
    """Steps in standard deviations, bent so that none passes `_MOST`."""
    return np.asarray(_MOST * np.tanh(steps / _MOST))


def _glare(theta: Floats) -> Floats:
    """Reflectance (starts, draws) of the skin beside a gloss film's."""
    return GLARE * _bounded(theta[..., -1])


def _mixture(theta: Floats, K: Floats, S: Floats, base: Floats) -> tuple[Floats, Floats, Floats]:
    """Shares, K and S of theta (starts, draws, m + 4): log-parts against `base`, then the bend."""
    m = base.size
    logs = base + theta[..., :m]
    c = np.exp(logs - logs.max(axis=-1, keepdims=True))
    c /= c.sum(axis=-1, keepdims=True)
    bend = (BEND_SPREAD * _bounded(theta[..., m : m + 3])) @ _BENDS
    K_mix = np.einsum("sdm,mdb->sdb", c, K) * np.exp(bend)
    return c, K_mix, np.einsum("sdm,mdb->sdb", c, S)


def _prior(m: int) -> Floats:
    """Standard deviations (m + 4,) of the log-parts, and of what is counted in its own."""
    return np.concatenate([np.full(m, PARTS_SPREAD), np.ones(_BESIDE)])


def _matched(
    theta: Floats,
    K: Floats,
    S: Floats,
    base: Floats,
    swatch: Swatch,
    target: Floats,
    centre: Floats,
    *,
    rounds: int,
) -> tuple[Floats, Floats]:
    """Damped Gauss-Newton from theta (starts, draws, m + 4) to `target` (draws, 3) against priors
    about `centre` (draws, m + 4); returns theta and its cost."""
    prior = _prior(base.size)
    nudge = 1e-5 * prior

    def residuals(theta: Floats) -> Floats:
        _, K_mix, S_mix = _mixture(theta, K, S, base)
        shown = masstone_lab(K_mix, S_mix, swatch.geometry, _glare(theta))
        return np.concatenate([(shown - target) / swatch.error, (theta - centre) / prior], axis=-1)

    size = theta.shape[-1]
    damping = np.full(theta.shape[:2], 1e-2)
    r = residuals(theta)
    cost = (r**2).sum(axis=-1)
    for _ in range(rounds):
        J = np.empty((*r.shape, size))
        for j in range(size):
            nudged = theta.copy()
            nudged[..., j] += nudge[j]
            J[..., j] = (residuals(nudged) - r) / nudge[j]
        A = np.einsum("sdrj,sdrk->sdjk", J, J)
        g = np.einsum("sdrj,sdr->sdj", J, r)
        A[..., range(size), range(size)] *= (1.0 + damping)[..., None]
        step = np.linalg.solve(A, g[..., None])[..., 0]
        trial = theta - np.clip(step, -1.5, 1.5)
        r_trial = residuals(trial)
        cost_trial = (r_trial**2).sum(axis=-1)
        better = cost_trial < cost
        theta = np.where(better[..., None], trial, theta)
        r = np.where(better[..., None], r_trial, r)
        cost = np.where(better, cost_trial, cost)
        damping = np.where(better, damping * 0.3, damping * 5.0)
        if np.abs(step / prior).max() < 5e-3:
            break
    return theta, cost
