"""K and S of paints from drawdowns: bounded weighted least squares, all bands and paints at once.

Walowit, McCarthy & Berns (Color Res. Appl. 12, 1987, and 13, 1988) solve for K and S by least
squares linear in K and S, weighted so as to count errors of reflectance. That solution is only our
start: from it, Gauss-Newton steps damped after Levenberg and Marquardt find the least squares of
reflectance itself. `joint` fits what concerns all bands alike.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tubewise.colour.arrays import Floats
from tubewise.measure.model import readings_and_slopes, readings_of
from tubewise.optics.film import ks_ratio
from tubewise.optics.surface import GLOSS, Surface, internal_from_measured, reading_slope

# Bounds on K and S, in the unit where titanium white scatters 1 at 560 nm. Below the lower one
# nothing is left to see; no artists' paint comes near the upper (common practice, no source).
LOWEST = 1e-5
HIGHEST = 1e3
# An instrument's repeatability on paint, absolute reflectance; texture and drying included.
READING_ERROR = 0.002

_LN_LOW, _LN_HIGH = float(np.log(LOWEST)), float(np.log(HIGHEST))
_MAX_STEP = 2.0


@dataclass(frozen=True, slots=True, eq=False)
class Films:
    """Drawdowns of paints as arrays that broadcast over leading axes.

    `R` (..., D, B) as read; `share` (..., D) of the paint by volume; `X` (..., D) thickness,
    infinite where opaque; `ground` (..., D, B or 1) internal reflectance below; `sigma`
    (..., D, B or 1) standard error of R, infinite where nothing was read; `K_white`, `S_white`
    (..., B) of the white of the tints.
    """

    R: Floats
    share: Floats
    K_white: Floats
    S_white: Floats
    X: Floats = field(default_factory=lambda: np.array([np.inf]))
    ground: Floats = field(default_factory=lambda: np.array([[0.8]]))
    sigma: Floats = field(default_factory=lambda: np.array([[READING_ERROR]]))


@dataclass(frozen=True, slots=True, eq=False)
class BandFit:
    """K and S (..., B) at the least squares; `objective` (..., B) is half the weighted sum.

    `residuals` (..., D, B) are fitted minus read reflectance; `normal` (..., B, 2, 2) is J^T J by
    ln K and ln S; `iterations` is how many steps the slowest band took.
    """

    K: Floats
    S: Floats
    objective: Floats
    residuals: Floats
    normal: Floats
    iterations: int


def linear_start(films: Films, surface: Surface = GLOSS) -> tuple[Floats, Floats]:
    """K and S (..., B) by Walowit, McCarthy & Berns' weighted linear least squares.

    Films that show their ground are passed over, unless there are no two opaque ones; then the
    best of a table of K and S is taken.
    """
    R, share, X, _, sigma, Kw, Sw = aligned(films)
    opaque = ~np.isfinite(X)
    usable = opaque & np.isfinite(sigma)
    # A white film's K/S of 0 and a black one's endless K/S weigh nothing, but must stay finite.
    inside = np.clip(internal_from_measured(R, surface), 1e-4, 0.9999)
    q = ks_ratio(inside)
    slope = inside / np.sqrt(q * (q + 2.0))
    slope *= reading_slope(inside, surface)
    target = (1.0 - share) * (q * Sw - Kw)
    K = S = np.broadcast_to(Sw, R.shape).mean(axis=-2)
    for _ in range(3):
        weight = slope / (share * S[..., None, :] + (1.0 - share) * Sw)
        weight = np.where(usable, weight / sigma, 0.0)
        a, b, y = weight * share, -weight * q * share, weight * target
        aa, ab, bb = (a * a).sum(-2), (a * b).sum(-2), (b * b).sum(-2)
        ay, by = (a * y).sum(-2), (b * y).sum(-2)
        det = aa * bb - ab * ab
        with np.errstate(divide="ignore", invalid="ignore"):
            K = (bb * ay - ab * by) / det
            S = (aa * by - ab * ay) / det
            # Where a bound is met, the other unknown is solved again along it.
            K = np.where(S < LOWEST, (ay - ab * LOWEST) / aa, K)
            S = np.where(K < LOWEST, (by - ab * LOWEST) / bb, S)
        K = np.clip(np.nan_to_num(K, nan=LOWEST, posinf=HIGHEST, neginf=LOWEST), LOWEST, HIGHEST)
        S = np.clip(np.nan_to_num(S, nan=LOWEST, posinf=HIGHEST, neginf=LOWEST), LOWEST, HIGHEST)
    poor = (usable & (share > 0.0)).sum(axis=-2) < 2
    if poor.any():
        K_best, S_best = _table_start(films, surface)
        K, S = np.where(poor, K_best, K), np.where(poor, S_best, S)
    return K, S


def _table_start(films: Films, surface: Surface) -> tuple[Floats, Floats]:
    R, share, X, ground, sigma, Kw, Sw = aligned(films)
    best = np.full((*R.shape[:-2], R.shape[-1]), np.inf)
    K_best, S_best = np.ones_like(best), np.ones_like(best)
    # Nearly opaque films tell K/S sharply and K hardly: their valley is narrower than a table's
    # mesh, so the ratio that their readings would have as opaque ones is tried as well.
    ratios = ks_ratio(np.clip(internal_from_measured(R, surface), 1e-4, 0.9999))
    columns = [np.full(best.shape, S) for S in np.geomspace(3e-3, 3.0, 14)]
    for K in np.geomspace(1e-3, 30.0, 24):
        for S in (*columns, *(K / np.moveaxis(ratios, -2, 0))):
            got = readings_of(np.array(K), S[..., None, :], share, Kw, Sw, X, ground, surface)
            cost = (((got - R) / sigma) ** 2).sum(axis=-2)
            better = cost < best
            best = np.where(better, cost, best)
            K_best, S_best = np.where(better, K, K_best), np.where(better, S, S_best)
    return K_best, S_best


def aligned(films: Films) -> tuple[Floats, Floats, Floats, Floats, Floats, Floats, Floats]:
    """R, share, X, ground, sigma, K_white, S_white, each to broadcast to (..., D, B)."""
    return (
        films.R,
        films.share[..., None],
        films.X[..., None],
        films.ground,
        films.sigma,
        films.K_white[..., None, :],
        films.S_white[..., None, :],
    )


@dataclass(slots=True, eq=False)
class _Problems:
    """Problems of two unknowns, all alike: D readings each of n paints and bands.

    Each array is (D or 1, n or 1), in the order of `aligned`, but with 1 / sigma for sigma.
    """

    data: list[Floats]
    surface: Surface

    def residuals_and_slopes(self, theta: Floats) -> tuple[Floats, Floats, Floats]:
        """Weighted residuals (D, n) at ln K and ln S, theta (2, n), and their slopes by both."""
        R, share, X, ground, w, Kw, Sw = self.data
        got, by_K, by_S = readings_and_slopes(
            np.exp(theta[0]), np.exp(theta[1]), share, Kw, Sw, X, ground, self.surface
        )
        return (got - R) * w, by_K * w, by_S * w

    def only(self, which: NDArray[np.bool_]) -> _Problems:
        """The problems that `which` (n,) chooses."""
        return _Problems([v if v.shape[-1] == 1 else v[:, which] for v in self.data], self.surface)


def fit_bands(
    films: Films,
    surface: Surface = GLOSS,
    start: tuple[ArrayLike, ArrayLike] | None = None,
    iterations: int = 200,
    tolerance: float = 1e-12,
) -> BandFit:
    """Least squares of reflectance over K and S of each paint and band by itself, 1e-5 to 1e3.

    Every leading axis and band is a problem of two unknowns; all are solved together, and those
    that have converged (a step improves the objective by less than `tolerance` of it) drop out.
    """
    R, share, X, ground, sigma, Kw, Sw = aligned(films)
    shape = R.shape
    D, B = shape[-2:]
    problems = _Problems(
        [
            _problems(np.asarray(v, dtype=np.float64), shape)
            for v in (R, share, X, ground, 1.0 / sigma, Kw, Sw)
        ],
        surface,
    )
    K0, S0 = linear_start(films, surface) if start is None else start
    where = (*shape[:-2], B)
    theta = np.stack([np.broadcast_to(np.asarray(v, float), where).reshape(-1) for v in (K0, S0)])
    theta = np.clip(np.log(theta), _LN_LOW, _LN_HIGH)
    theta, cost, steps = _least_squares(problems, theta, iterations, tolerance)
    r, by_K, by_S = problems.residuals_and_slopes(theta)
    normal = np.empty((theta.shape[1], 2, 2))
    normal[:, 0, 0] = (by_K * by_K).sum(0)
    normal[:, 1, 1] = (by_S * by_S).sum(0)
    normal[:, 0, 1] = normal[:, 1, 0] = (by_K * by_S).sum(0)
    w = problems.data[4]
    plain = np.divide(r, w, out=np.zeros_like(r), where=np.broadcast_to(w, r.shape) > 0.0)
    return BandFit(
        np.exp(theta[0]).reshape(where),
        np.exp(theta[1]).reshape(where),
        cost.reshape(where),
        np.moveaxis(plain.reshape(D, *where), 0, -2),
        normal.reshape(*where, 2, 2),
        steps,
    )


def _least_squares(
    problems: _Problems, theta: Floats, iterations: int, tolerance: float
) -> tuple[Floats, Floats, int]:
    """Levenberg-Marquardt from theta (2, n), which it moves.

    Returns theta and half the weighted sum (n,) at the least squares, and the steps that the
    slowest problem took.
    """
    n = theta.shape[1]
    active = np.arange(n)
    r, jK, jS = problems.residuals_and_slopes(theta)
    cost = 0.5 * np.einsum("dn,dn->n", r, r)
    damping = np.full(n, 1e-4)
    # theta, cost and damping hold all problems; r, jK, jS and problems only the active ones.
    steps = 0
    for _ in range(iterations):
        steps += 1
        now = theta[:, active]
        trial = np.clip(now + _damped_step(now, r, jK, jS, damping[active]), _LN_LOW, _LN_HIGH)
        r_new, jK_new, jS_new = problems.residuals_and_slopes(trial)
        c_new = 0.5 * np.einsum("dn,dn->n", r_new, r_new)
        c_now = cost[active]
        better = c_new <= c_now
        gain = c_now - c_new
        theta[:, active] = np.where(better, trial, now)
        cost[active] = np.where(better, c_new, c_now)
        damping[active] = np.where(better, damping[active] * 0.1, damping[active] * 10.0)
        still = better & (gain > tolerance * c_now + 1e-18)
        still |= ~better & (damping[active] < 1e8) & (np.abs(trial - now).max(axis=0) > 1e-9)
        if not still.any():
            break
        for new, old in ((r_new, r), (jK_new, jK), (jS_new, jS)):
            np.copyto(old, new, where=better)
        if still.mean() < 0.7:
            active = active[still]
            r, jK, jS = r[:, still], jK[:, still], jS[:, still]
            problems = problems.only(still)
    return theta, cost, steps


def _damped_step(now: Floats, r: Floats, jK: Floats, jS: Floats, damping: Floats) -> Floats:
    """The damped Gauss-Newton step (2, n) from residuals and their slopes (D, n)."""
    more = 1.0 + damping
    g0, g1 = np.einsum("dn,dn->n", jK, r), np.einsum("dn,dn->n", jS, r)
    a00 = np.einsum("dn,dn->n", jK, jK)
    a11 = np.einsum("dn,dn->n", jS, jS)
    a01 = np.einsum("dn,dn->n", jK, jS)
    return _bounded_step(now, g0, g1, a00 * more + 1e-30, a01, a11 * more + 1e-30)


def _problems(v: Floats, shape: tuple[int, ...]) -> Floats:
    """An array that broadcasts to (..., D, B) as (D or 1, problems or 1)."""
    if v.size == 1:
        return v.reshape(1, 1)
    if all(n == 1 for n in v.shape[:-2]) and v.shape[-1] == 1:
        return v.reshape(-1, 1)
    D = v.shape[-2] if v.ndim > 1 else 1
    full = np.broadcast_to(v, (*shape[:-2], D, shape[-1]))
    return np.ascontiguousarray(np.moveaxis(full, -2, 0).reshape(D, -1))


def _bounded_step(
    now: Floats, g0: Floats, g1: Floats, a00: Floats, a01: Floats, a11: Floats
) -> Floats:
    """The damped Gauss-Newton step (2, n); an unknown pressed against its bound stands still."""
    pressed0 = ((now[0] <= _LN_LOW) & (g0 > 0.0)) | ((now[0] >= _LN_HIGH) & (g0 < 0.0))
    pressed1 = ((now[1] <= _LN_LOW) & (g1 > 0.0)) | ((now[1] >= _LN_HIGH) & (g1 < 0.0))
    det = np.maximum(a00 * a11 - a01 * a01, 1e-14 * a00 * a11)
    s0 = np.where(pressed1, -g0 / a00, (-a11 * g0 + a01 * g1) / det)
    s1 = np.where(pressed0, -g1 / a11, (a01 * g0 - a00 * g1) / det)
    step = np.stack([np.where(pressed0, 0.0, s0), np.where(pressed1, 0.0, s1)])
    return np.asarray(np.clip(step, -_MAX_STEP, _MAX_STEP))
