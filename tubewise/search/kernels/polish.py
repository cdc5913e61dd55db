"""The finish: Gauss-Newton in CIELAB, or in reflectance, on the amounts of one set of paints."""

# Kernels take the types of `layout`; numba checks them when it compiles.
# mypy: allow-untyped-defs
from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.search.jit import jit, jit_allocating
from tubewise.search.kernels.ciede2000 import delta_e_slopes
from tubewise.search.kernels.cielab import lab_of, lab_slopes, ratios
from tubewise.search.kernels.layout import BANDS
from tubewise.search.kernels.objective import blend, value_at
from tubewise.search.kernels.reflectance import reflectance_slopes
from tubewise.search.kernels.step import step

GOOD_ENOUGH = 1e-7
# Attempts at a step, each more damped, before a round gives up.
ATTEMPTS = 6
# Rounds without gain after which the worst of several illuminants is as low as it gets.
STALLS = 12


class Model(NamedTuple):
    """The objective near some amounts, squared and halved: slope `g` (k,), matrix `H` (k, k).

    `weight` (illuminants,) of each illuminant; `errors` (illuminants,) the differences there;
    `work` (5, 36): K, S, reflectance and its slopes in K and S. `grad` (3,), `metric` (3, 3) and
    `J` (3, k) of one illuminant: the slopes of CIEDE2000 and of CIELAB.
    """

    g: Floats
    H: Floats
    weight: Floats
    errors: Floats
    work: Floats
    grad: Floats
    metric: Floats
    J: Floats


@jit
def _spectral_model(Kv, Sv, goal, model):
    R, dK, dS = model.work[2], model.work[3], model.work[4]
    k = Kv.shape[0]
    scale = 1e4 / BANDS
    total = 0.0
    for w in range(BANDS):
        e = R[w] - goal[w]
        total += e * e
        for i in range(k):
            di = dK[w] * Kv[i, w] + dS[w] * Sv[i, w]
            model.g[i] += scale * e * di
            for j in range(k):
                model.H[i, j] += scale * di * (dK[w] * Kv[j, w] + dS[w] * Sv[j, w])
    return math.sqrt(scale * total)


@jit
def _colour_model(Kv, Sv, aim, model):
    R, dK, dS = model.work[2], model.work[3], model.work[4]
    k = Kv.shape[0]
    worst = 0.0
    grad, metric, J = model.grad, model.metric, model.J
    for illuminant in range(aim.W.shape[0]):
        x, y, z = ratios(R, aim.W, illuminant)
        L, a, b = lab_of(x, y, z)
        aims = aim.lab[illuminant]
        square = delta_e_slopes(aims[0], aims[1], aims[2], L, a, b, grad, metric)
        model.errors[illuminant] = math.sqrt(square)
        worst = max(worst, model.errors[illuminant])
        weight = model.weight[illuminant]
        if weight <= 0.0:
            continue
        lab_slopes(x, y, z, Kv, Sv, dK, dS, aim.W, illuminant, J)
        for i in range(k):
            m0 = metric[0, 0] * J[0, i]
            m1 = metric[1, 1] * J[1, i] + metric[1, 2] * J[2, i]
            m2 = metric[2, 1] * J[1, i] + metric[2, 2] * J[2, i]
            model.g[i] += weight * (grad[0] * J[0, i] + grad[1] * J[1, i] + grad[2] * J[2, i])
            for j in range(k):
                model.H[i, j] += weight * (m0 * J[0, j] + m1 * J[1, j] + m2 * J[2, j])
    return worst


@jit
def fill(Kv, Sv, b, film, aim, model):
    """Fill the `Model` at amounts `b` (k,) of `Kv`, `Sv` (k, 36); the objective there."""
    k = b.size
    work = model.work
    blend(Kv, Sv, b, work[0], work[1])
    reflectance_slopes(work[0], work[1], film, work[2], work[3], work[4])
    for i in range(k):
        model.g[i] = 0.0
        for j in range(k):
            model.H[i, j] = 0.0
    if math.isnan(aim.goal[0]):
        return _colour_model(Kv, Sv, aim, model)
    return _spectral_model(Kv, Sv, aim.goal, model)


@jit
def _weigh(model, now):
    """Move the illuminants' weights towards those that are worst."""
    total = 0.0
    for i in range(model.weight.size):
        model.weight[i] *= math.exp(3.0 * (model.errors[i] - now) / (now + 1e-9))
        model.weight[i] = max(model.weight[i], 1e-4)
        total += model.weight[i]
    for i in range(model.weight.size):
        model.weight[i] /= total


@jit
def _moved(b, d, trial):
    """Amounts `trial` (k,) a step `d` on from `b`, none below zero; the largest change."""
    total = 0.0
    for i in range(b.size):
        trial[i] = max(b[i] + d[i], 0.0)
        total += trial[i]
    size = 0.0
    for i in range(b.size):
        trial[i] /= total
        size = max(size, abs(trial[i] - b[i]))
    return size


@jit_allocating
def polish(Kv, Sv, b, film, aim, rounds):
    """Improve amounts `b` (k,) of `Kv`, `Sv` (k, 36) in place; the objective at the optimum met.

    A damped Gauss-Newton on the simplex. With several illuminants it minimises the worst of them:
    their weights drift towards those that are worst, and the best point met is kept.
    """
    k = b.size
    illuminants = aim.W.shape[0]
    model = Model(
        np.empty(k),
        np.empty((k, k)),
        np.empty(illuminants),
        np.empty(illuminants),
        np.empty((5, BANDS)),
        np.empty(3),
        np.empty((3, 3)),
        np.empty((3, k)),
    )
    for i in range(illuminants):
        model.weight[i] = 1.0 / illuminants
    d, trial, fixed = np.empty(k), np.empty(k), np.empty(k, np.bool_)
    A, y = np.empty((k + 1, k + 1)), np.empty(k + 1)
    work, lab = np.empty((3, BANDS)), np.empty((illuminants, 3))
    many = illuminants > 1 and math.isnan(aim.goal[0])
    best = value_at(Kv, Sv, b, film, aim, work, lab)
    if k == 1:
        return best
    mu = 1e-3
    stalls = 0
    for _ in range(rounds):
        now = fill(Kv, Sv, b, film, aim, model)
        if now < GOOD_ENOUGH:
            break
        gain = 0.0
        for _attempt in range(ATTEMPTS):
            step(model.H, model.g, b, mu, fixed, A, y, d)
            size = _moved(b, d, trial)
            value = value_at(Kv, Sv, trial, film, aim, work, lab)
            if value < now:
                for i in range(k):
                    b[i] = trial[i]
                mu = max(mu * 0.2, 1e-9)
                gain = now - value
                now = value
                break
            mu = max(mu * 8.0, 1e-6)
            if size < 1e-12:
                break
        best = min(best, now)
        if many:
            _weigh(model, now)
            stalls = 0 if gain > 1e-6 else stalls + 1
            if stalls > 0:
                mu = min(mu, 1.0)
            if stalls > STALLS:
                break
        elif gain < 1e-9 * (1.0 + now):
            break
    return best
