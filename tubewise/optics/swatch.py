"""A swatch is the colour of a masstone; pigments are mixed and bent until theirs meets it.

All parameters theta (..., m + 4) count from what is believed: m log-parts, then three of a gentle
bend of the absorption and one of glare, those four in standard deviations.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.arrays import Floats
from tubewise.colour.grid import WAVELENGTHS_NM
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import film_reflectance, opaque_reflectance
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
# A wash for a swatch is mixed by eye: standard deviation of the logarithm of its thickness.
# common practice, no source.
DILUTION = 0.5
# No swatch, however odd, bends a pigment or brightens its skin by more than so many standard
# deviations: then the label is wrong, or the swatch.
_MOST = 3.0
# What a swatch is taken for when nothing says how it was read: 45/0 instruments, scanners and
# cameras see no mirror reflection.
USUAL_GEOMETRY = "excluded"

_POSITION = (WAVELENGTHS_NM - 555.0) / 175.0
_BENDS = np.stack([np.ones_like(_POSITION), _POSITION, _POSITION**2 - 1.0 / 3.0])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Swatch:
    """The colour of a masstone, `lab` CIELAB (3,) D65/2°, good to `error` units.

    `geometry` says whether the mirror reflection of its skin was `excluded` or `included`. With a
    `film`, in the unit of `optics.film`, it is a wash of about that film over a `ground`, what it
    shows inside the film (bands,): how much water was in it nobody knows.
    """

    lab: Floats
    error: float = SWATCH_ERROR
    geometry: str = USUAL_GEOMETRY
    film: float | None = None
    ground: ArrayLike = 1.0

    def shown(self, K: ArrayLike, S: ArrayLike, step: ArrayLike = 0.0) -> Floats:
        """CIELAB (..., 3) of K, S (..., 36) seen as the swatch was.

        `step` (...) is its skin's glare, or a wash's thickness, in standard deviations.
        """
        if self.film is None:
            return masstone_lab(K, S, self.geometry, GLARE * np.asarray(step))
        film = self.film * np.exp(DILUTION * np.asarray(step, dtype=np.float64))[..., None]
        R = measured_from_internal(film_reflectance(K, S, film, self.ground))
        return lab_from_reflectance(R)


def masstone_lab(
    K: ArrayLike, S: ArrayLike, geometry: str = "included", glare: ArrayLike = 0.0
) -> Floats:
    """CIELAB (..., 3) of an opaque film of K, S (..., 36).

    It is read with the mirror reflection `included` or `excluded`; `glare` (...) is reflectance of
    its skin besides.
    """
    R = measured_from_internal(opaque_reflectance(K, S), gloss_read(geometry))
    more = np.asarray(glare, dtype=np.float64)[..., None]
    return lab_from_reflectance(np.maximum(R + more, _LEAST_READING))


# The parameters beside the log-parts, in standard deviations: three of the bend, one of glare or,
# of a wash, of its thickness.
BESIDE_PARTS = 4


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Blend:
    """Pigments in a paint whose masstone is seen as `swatch`.

    `K` and `S` (m, draws, bands) are theirs; `base` (m,) the logarithms of their likeliest shares.
    """

    K: Floats
    S: Floats
    base: Floats
    swatch: Swatch

    @property
    def prior(self) -> Floats:
        """Standard deviations (m + 4,) of theta."""
        return np.concatenate([np.full(self.base.size, PARTS_SPREAD), np.ones(BESIDE_PARTS)])

    def mixture(self, theta: Floats) -> tuple[Floats, Floats, Floats]:
        """Shares (starts, draws, m), K and S (starts, draws, bands) at theta."""
        m = self.base.size
        logs = self.base + theta[..., :m]
        c = np.exp(logs - logs.max(axis=-1, keepdims=True))
        c /= c.sum(axis=-1, keepdims=True)
        bend = (BEND_SPREAD * _bounded(theta[..., m : m + 3])) @ _BENDS
        K = np.einsum("sdm,mdb->sdb", c, self.K) * np.exp(bend)
        return c, K, np.einsum("sdm,mdb->sdb", c, self.S)

    def shown(self, theta: Floats) -> Floats:
        """CIELAB (starts, draws, 3) of the masstone at theta, read as the swatch was."""
        _, K, S = self.mixture(theta)
        return self.swatch.shown(K, S, _bounded(theta[..., -1]))

    def residuals(self, theta: Floats, target: Floats, centre: Floats) -> Floats:
        """What theta misses, (starts, draws, m + 7) in standard deviations.

        It should meet `target` (draws, 3) and its priors about `centre` (draws, m + 4).
        """
        off = (self.shown(theta) - target) / self.swatch.error
        return np.concatenate([off, (theta - centre) / self.prior], axis=-1)

    def slopes(self, theta: Floats, r: Floats, target: Floats, centre: Floats) -> Floats:
        """How the residuals `r` at theta move with theta: (starts, draws, m + 7, m + 4)."""
        # All nudges at once, as so many more starts: one call of the film is cheaper than seven.
        nudges = 1e-5 * self.prior
        nudged = (theta + np.diag(nudges)[:, None, None, :]).reshape(-1, *theta.shape[1:])
        moved = self.residuals(nudged, target, centre).reshape(nudges.size, *r.shape)
        return np.moveaxis((moved - r) / nudges[:, None, None, None], 0, -1)

    def bend_moves(self, theta: Floats) -> Floats:
        """What is left unknown of ln K where one draw is met at theta (1, 1, m + 4).

        Three independent steps (3, bands), each of one standard deviation.
        """
        m = self.base.size
        target, centre = self.swatch.lab[None], np.zeros_like(theta[0])
        J = self.slopes(theta, self.residuals(theta, target, centre), target, centre)[0, 0]
        covariance = np.linalg.inv(J.T @ J)[m : m + 3, m : m + 3]
        steep = BEND_SPREAD / np.cosh(theta[0, 0, m : m + 3] / _MOST) ** 2
        root = np.linalg.cholesky(covariance)
        return np.asarray(root.T @ (steep[:, None] * _BENDS))


def _bounded(steps: Floats) -> Floats:
    """Steps in standard deviations, bent so that none passes `_MOST`."""
    return np.asarray(_MOST * np.tanh(steps / _MOST))


def matched(
    blend: Blend, theta: Floats, target: Floats, centre: Floats, *, rounds: int
) -> tuple[Floats, Floats]:
    """Damped Gauss-Newton from theta (starts, draws, m + 4); returns theta and its cost.

    It goes to `target` (draws, 3) against priors about `centre` (draws, m + 4).
    """
    size = theta.shape[-1]
    damping = np.full(theta.shape[:2], 1e-2)
    r = blend.residuals(theta, target, centre)
    cost = (r**2).sum(axis=-1)
    for _ in range(rounds):
        J = blend.slopes(theta, r, target, centre)
        A = np.einsum("sdrj,sdrk->sdjk", J, J)
        g = np.einsum("sdrj,sdr->sdj", J, r)
        A[..., range(size), range(size)] *= (1.0 + damping)[..., None]
        step = np.linalg.solve(A, g[..., None])[..., 0]
        trial = theta - np.clip(step, -1.5, 1.5)
        r_trial = blend.residuals(trial, target, centre)
        cost_trial = (r_trial**2).sum(axis=-1)
        better = cost_trial < cost
        theta = np.where(better[..., None], trial, theta)
        r = np.where(better[..., None], r_trial, r)
        cost = np.where(better, cost_trial, cost)
        damping = np.where(better, damping * 0.3, damping * 5.0)
        if np.abs(step / blend.prior).max() < 5e-3:
            break
    return theta, cost


def best_match(blend: Blend) -> Floats:
    """The likeliest theta (1, 1, m + 4) of a blend of one draw, sought from several starts."""
    m = blend.base.size
    leads = [np.zeros(m)] if m == 1 else [np.zeros(m), *(np.eye(m) * 1.5), *(np.eye(m) * -1.5)]
    starts = np.zeros((len(leads), 1, m + BESIDE_PARTS))
    starts[:, 0, :m] = leads
    nowhere = np.zeros((1, m + BESIDE_PARTS))
    theta, cost = matched(blend, starts, blend.swatch.lab[None], nowhere, rounds=14)
    return np.asarray(theta[cost[:, 0].argmin()][None])
