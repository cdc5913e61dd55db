"""K and S of a paint together with what concerns all bands alike.

Errors in the parts, film thickness and the surface constants move every band at once, so the
spectra betray them. They are fitted around the bands' own least squares by variable projection
(Golub & Pereyra, SIAM J. Numer. Anal. 10, 1973; Kaufman, BIT 15, 1975).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats
from tubewise.measure.fit import HIGHEST, LOWEST, BandFit, Films, aligned, fit_bands
from tubewise.measure.model import readings_and_slopes, readings_of
from tubewise.optics.surface import GLOSS, Surface

# Squeezing or weighing a paint against white, relative: common practice, no source.
PARTS_ERROR = 0.02
# Where the drawdowns say nothing of ln K or ln S, a factor of about 3 either way is admitted.
_WIDEST = 1.2


@dataclass(frozen=True, slots=True, eq=False)
class Freedom:
    """What, besides K and S, may move, and how far what was stated is trusted (standard errors).

    `parts` (D,) of the logarithm of paint : white, 0 to hold it. `film` (D,) numbers the films:
    drawdowns drawn in one stroke share a number, -1 holds the thickness; `thickness` is the trust
    in ln X. `surface` frees k1 and k2 around their start.
    """

    parts: Floats
    film: NDArray[np.int_]
    thickness: float = 0.3
    surface: bool = False
    k1: float = 0.01
    k2: float = 0.06


@dataclass(frozen=True, slots=True, eq=False)
class JointFit:
    """A band fit at the best of the common unknowns.

    `parts_error` (D,) is ln of the fitted over the stated ratio paint : white; `thickness` (D,)
    the fitted X; `surface` the fitted constants. `local` (B, 2, 2) is the covariance of ln K and
    ln S of each band by itself, and `shared` (m, B, 2) what moves all bands together, one
    independent standard step a row. `misfit` is the residuals' size against `sigma`, 1 where they
    agree; None where nothing was left over to judge by.
    """

    bands: BandFit
    parts_error: Floats
    thickness: Floats
    surface: Surface
    local: Floats
    shared: Floats
    misfit: float | None


@dataclass(frozen=True, slots=True, eq=False)
class _Common:
    """The common unknowns g of a set of drawdowns: their names, trust, and what they change."""

    films: Films
    freedom: Freedom
    surface: Surface
    names: tuple[tuple[str, int], ...]
    trust: Floats

    def moved(self, g: Floats) -> tuple[Films, Surface]:
        f = self.films
        share = f.share.copy()
        X = np.array(np.broadcast_to(f.X, share.shape))
        k1, k2 = self.surface.k1, self.surface.k2
        for (name, at), value in zip(self.names, g, strict=True):
            if name == "parts":
                odds = f.share[at] / (1.0 - f.share[at]) * np.exp(value)
                share[at] = odds / (1.0 + odds)
            elif name == "film":
                X[self.freedom.film == at] *= np.exp(value)
            elif name == "k1":
                k1 = float(np.clip(k1 + value, 0.0, 0.08))
            else:
                k2 = float(np.clip(k2 + value, 0.0, 0.85))
        moved = Films(f.R, share, f.K_white, f.S_white, X, f.ground, f.sigma)
        return moved, Surface(k1, k2, self.surface.specular_included)

    def slopes(self, g: Floats, K: Floats, S: Floats, w: Floats) -> tuple[Floats, Floats]:
        """Weighted derivatives by ln K, ln S (D, B, 2) and by g (D, B, len(g))."""
        films, skin = self.moved(g)
        _, share, X, ground, _, Kw, Sw = aligned(films)
        _, by_K, by_S = readings_and_slopes(K, S, share, Kw, Sw, X, ground, skin)
        # An unknown that lies at its bound can't follow the common ones.
        by_K = np.where((K > LOWEST * 1.001) & (K < HIGHEST * 0.999), by_K, 0.0)
        by_S = np.where((S > LOWEST * 1.001) & (S < HIGHEST * 0.999), by_S, 0.0)
        own = np.stack([by_K * w, by_S * w], axis=-1)
        common = np.empty((*w.shape, len(g)))
        for j in range(len(g)):
            ends = []
            for h in (1e-5, -1e-5):
                nudged = g.copy()
                nudged[j] += h
                films, skin = self.moved(nudged)
                _, share, X, ground, _, Kw, Sw = aligned(films)
                ends.append(readings_of(K, S, share, Kw, Sw, X, ground, skin))
            common[..., j] = (ends[0] - ends[1]) / 2e-5 * w
        return own, common


def _common(films: Films, freedom: Freedom, surface: Surface) -> _Common:
    free = (freedom.parts > 0.0) & (films.share > 0.0) & (films.share < 1.0)
    names: list[tuple[str, int]] = [("parts", int(d)) for d in np.flatnonzero(free)]
    trust = [float(freedom.parts[d]) for _, d in names]
    for film in sorted(set(freedom.film[freedom.film >= 0].tolist())):
        names.append(("film", film))
        trust.append(freedom.thickness)
    if freedom.surface:
        # Without the mirror reflection k1 only dims, and can't be told from k2.
        if surface.specular_included:
            names.append(("k1", 0))
            trust.append(freedom.k1)
        names.append(("k2", 0))
        trust.append(freedom.k2)
    return _Common(films, freedom, surface, tuple(names), np.asarray(trust, dtype=np.float64))


def fit_jointly(films: Films, freedom: Freedom, surface: Surface = GLOSS) -> JointFit:
    """K and S of one paint, R (D, B), with the errors its bands have in common.

    Common unknowns have normal priors around what was stated, so what the spectra do not tell
    stays as stated. The covariance is that of reading errors of `sigma`, widened where the
    residuals are larger.
    """
    common = _common(films, freedom, surface)
    w = np.broadcast_to(1.0 / films.sigma, films.R.shape)
    g = np.zeros(len(common.names))
    bands = fit_bands(films, surface)
    total = float(bands.objective.sum())
    damping = 1e-3
    for _ in range(40 if common.names else 0):
        own, shared = common.slopes(g, bands.K, bands.S, w)
        C, _, _ = _projected(own, shared, common.trust)
        r = np.nan_to_num(bands.residuals * w)
        b = np.einsum("dbj,db->j", shared, r) + g / common.trust**2
        step = -np.linalg.solve(C + np.diag(damping * np.diag(C)), b)
        step = np.clip(step, -3.0 * common.trust, 3.0 * common.trust)
        trial = fit_bands(*common.moved(g + step), start=(bands.K, bands.S))
        cost = float(trial.objective.sum()) + 0.5 * float((((g + step) / common.trust) ** 2).sum())
        if cost < total:
            done = total - cost < 1e-6 * total + 1e-12
            g, bands, total = g + step, trial, cost
            damping = max(damping * 0.1, 1e-9)
            if done:
                break
        else:
            damping *= 10.0
            if damping > 1e5:
                break
    moved, skin = common.moved(g)
    own, shared = common.slopes(g, bands.K, bands.S, w)
    C, A, cross = _projected(own, shared, common.trust)
    seen = np.broadcast_to(np.isfinite(films.sigma), films.R.shape)
    spare = int(np.maximum(seen.sum(axis=0) - 2, 0).sum())
    misfit = float(np.sqrt(2.0 * total / spare)) if spare else None
    widen = max(1.0, misfit or 1.0) ** 2
    local = np.asarray(np.linalg.inv(A / widen + np.eye(2) / _WIDEST**2), dtype=np.float64)
    # How ln K and ln S follow each common unknown, times a square root of their covariance.
    follow = -np.linalg.solve(A + 1e-9 * np.eye(2), cross)
    root = np.linalg.cholesky(np.linalg.inv(C) * widen) if common.names else np.zeros((0, 0))
    loads = np.einsum("bij,jm->mbi", follow, root)
    parts_error = np.zeros(films.share.shape)
    for (name, at), value in zip(common.names, g, strict=True):
        if name == "parts":
            parts_error[at] = value
    X = np.array(np.broadcast_to(moved.X, films.share.shape))
    return JointFit(bands, parts_error, X, skin, local, loads, misfit)


def _projected(own: Floats, shared: Floats, trust: Floats) -> tuple[Floats, Floats, Floats]:
    """Normal matrix of the common unknowns once each band has followed them, with its pieces.

    Returns C (G, G) with the priors, A (B, 2, 2) = own^T own, and own^T shared (B, 2, G).
    """
    A = np.einsum("dbi,dbj->bij", own, own)
    cross = np.einsum("dbi,dbj->bij", own, shared)
    ridge = A + 1e-12 * np.trace(A, axis1=-2, axis2=-1)[:, None, None] * np.eye(2)
    ridge = ridge + 1e-9 * np.eye(2)
    taken = np.einsum("bij,bik->jk", cross, np.linalg.solve(ridge, cross))
    C = np.einsum("dbi,dbj->ij", shared, shared) - taken + np.diag(1.0 / trust**2)
    return C, A, cross
