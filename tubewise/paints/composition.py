"""What parts of its pigments make up a tube, solved from the colour of its swatch."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tubewise.colour.difference import delta_e_2000
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import opaque_reflectance
from tubewise.optics.surface import measured_from_internal

Floats = NDArray[np.float64]

# How far we let a swatch bend what we believe. The parts of a recipe by a stranger are known to
# a factor of three or so; a single pigment's absorption is known better, and its swatch may only
# raise, tilt or bow it. Standard deviations of logarithms. common practice, no source.
PARTS_SPREAD = 1.1
BEND_SPREAD = np.array([0.30, 0.20, 0.15])
# A measured swatch is good to about one CIELAB unit; a screen colour is only a hint.
SWATCH_ERROR = 1.0
SCREEN_ERROR = 6.0

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


def masstone_lab(K: ArrayLike, S: ArrayLike) -> Floats:
    """CIELAB (..., 3) of an opaque film of K, S (..., 36) as an instrument reads it."""
    return lab_from_reflectance(measured_from_internal(opaque_reflectance(K, S)))


def equal_strength(K: Floats, S: Floats) -> Floats:
    """Shares (m,) at which pigments of K, S (m, bands) pull a mixture equally hard."""
    pull = np.maximum(K.max(axis=-1), S.max(axis=-1))
    shares = 1.0 / pull
    return np.asarray(shares / shares.sum())


def compose(
    K: Floats,
    S: Floats,
    rng: np.random.Generator,
    swatch: ArrayLike | None = None,
    error: float = SWATCH_ERROR,
) -> Composition:
    """Mix pigments K, S (m, draws, bands) so that the masstone matches `swatch` (CIELAB).

    Without a swatch they are mixed in parts of equal tinting strength.

    With a swatch the best estimate is found by damped least squares against its priors (log-parts
    and a gentle bend of the absorption), from several starts. Each draw is then found in the same
    way for a swatch and priors that are themselves drawn, so that the draws spread as widely as
    what is left unknown (randomised maximum likelihood; Oliver, He & Reynolds 1996, from memory).
    """
    m, draws, _ = K.shape
    base = np.log(equal_strength(K[:, 0], S[:, 0]))
    if swatch is None:
        c = np.exp(base)
        if m > 1:
            # Nobody knows the parts: every draw gets its own.
            jitter = rng.standard_normal((draws, m)) * PARTS_SPREAD
            jitter[0] = 0.0
            each = np.exp(base + jitter)
            each /= each.sum(axis=1, keepdims=True)
        else:
            each = np.ones((draws, 1))
        return Composition(
            tuple(float(v) for v in c / c.sum()),
            np.einsum("dm,mdb->db", each, K),
            np.einsum("dm,mdb->db", each, S),
            None,
        )
    target = np.asarray(swatch, dtype=np.float64)
    leads = [np.zeros(m)] if m == 1 else [np.zeros(m), *(np.eye(m) * 1.5), *(np.eye(m) * -1.5)]
    starts = np.zeros((len(leads), 1, m + 3))
    starts[:, 0, :m] = leads
    # The best estimate is sought from every start; the draws lie near it and follow from there.
    centre = np.zeros((draws, m + 3))
    theta, cost = _matched(starts, K[:, :1], S[:, :1], base, target, centre[:1], error, rounds=14)
    best = theta[cost[:, 0].argmin()]
    centre[1:] = rng.standard_normal((draws - 1, m + 3)) * _prior(m)
    targets = np.tile(target, (draws, 1))
    targets[1:] += error * rng.standard_normal((draws - 1, 3))
    theta, _ = _matched(
        np.broadcast_to(best, (1, draws, m + 3)).copy() + centre,
        K,
        S,
        base,
        targets,
        centre,
        error,
        rounds=7,
    )
    c, K_mix, S_mix = (v[0] for v in _mixture(theta, K, S, base))
    miss = float(delta_e_2000(masstone_lab(K_mix[0], S_mix[0]), target))
    return Composition(tuple(float(v) for v in c[0]), K_mix, S_mix, miss)


def _mixture(theta: Floats, K: Floats, S: Floats, base: Floats) -> tuple[Floats, Floats, Floats]:
    """Shares, K and S of theta (starts, draws, m + 3): log-parts against `base`, then the bend."""
    m = base.size
    logs = base + theta[..., :m]
    c = np.exp(logs - logs.max(axis=-1, keepdims=True))
    c /= c.sum(axis=-1, keepdims=True)
    K_mix = np.einsum("sdm,mdb->sdb", c, K) * np.exp(theta[..., m:] @ _BENDS)
    return c, K_mix, np.einsum("sdm,mdb->sdb", c, S)


def _prior(m: int) -> Floats:
    """Standard deviations (m + 3,) of the log-parts and of the bend."""
    return np.concatenate([np.full(m, PARTS_SPREAD), BEND_SPREAD])


def bends(rng: np.random.Generator, draws: int, spread: ArrayLike) -> Floats:
    """Factors (draws, bands) that raise, tilt and bow an absorption by log-amounts of `spread`."""
    logs = (rng.standard_normal((draws, 3)) * np.asarray(spread)) @ _BENDS
    return np.asarray(np.exp(logs))


def _matched(
    theta: Floats,
    K: Floats,
    S: Floats,
    base: Floats,
    target: Floats,
    centre: Floats,
    error: float,
    rounds: int,
) -> tuple[Floats, Floats]:
    """Damped Gauss-Newton from theta (starts, draws, m + 3) to `target` (draws, 3) against priors
    about `centre` (draws, m + 3); returns theta and its cost."""
    prior = _prior(base.size)

    def residuals(theta: Floats) -> Floats:
        _, K_mix, S_mix = _mixture(theta, K, S, base)
        return np.concatenate(
            [(masstone_lab(K_mix, S_mix) - target) / error, (theta - centre) / prior], axis=-1
        )

    size = theta.shape[-1]
    damping = np.full(theta.shape[:2], 1e-2)
    r = residuals(theta)
    cost = (r**2).sum(axis=-1)
    for _ in range(rounds):
        J = np.empty((*r.shape, size))
        for j in range(size):
            nudged = theta.copy()
            nudged[..., j] += 1e-5
            J[..., j] = (residuals(nudged) - r) / 1e-5
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
        if np.abs(step).max() < 2e-3:
            break
    return theta, cost
