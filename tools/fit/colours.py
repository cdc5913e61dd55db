"""Colours of films and tints, and how far they are from facts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tools.fit.facts import Fact
from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import opaque_reflectance
from tubewise.optics.surface import measured_from_internal
from tubewise.pigments.density import paint_density

# What recalled facts are worth: one standard deviation of a masstone and of a tint on CIEDE94's
# scale, and of the logarithm of a share. Set by what they miss where a measurement stands beside
# them; `python -m tools.accuracy` prints that.
MASSTONE_ERROR = 2.5
TINT_ERROR = 2.3
SHARE_ERROR = 0.45
# Darker than this neither eye nor instrument know much of hue and chroma.
DARK_L = 30.0
# Shares of paint at which tints are first evaluated, as log odds, masstone last.
_LOGITS = np.append(np.linspace(-6.5, 6.0, 41), 14.0)
AIMS = {"L85": 85.0, "L70": 70.0, "L50": 50.0}


@dataclass(frozen=True, slots=True, kw_only=True)
class White:
    """The white of the tints: K and S (36,), and its paint's density in g/ml."""

    K: Floats
    S: Floats
    density: float


def colours(K: Floats, S: Floats) -> Floats:
    """CIELAB (D65, 2 degrees) of opaque films, as read with specular included."""
    return np.asarray(lab_from_reflectance(measured_from_internal(opaque_reflectance(K, S))))


def tint(K: Floats, S: Floats, white: White, share: Floats | float) -> Floats:
    """CIELAB of tints with `share` (...) of paint by volume."""
    c = np.asarray(share, dtype=np.float64)[..., None]
    return colours(c * K + (1.0 - c) * white.K, c * S + (1.0 - c) * white.S)


def by_volume(share: Floats | float, ref: str, white: White) -> Floats:
    """The share by volume of a paint that takes `share` of a tint by mass, as acrylic paints."""
    grams = np.asarray(share, dtype=np.float64)
    paint = grams / paint_density(ref)
    return np.asarray(paint / (paint + (1.0 - grams) / white.density))


def by_mass(share: Floats | float, ref: str, white: White) -> Floats:
    """The inverse of `by_volume`."""
    volume = np.asarray(share, dtype=np.float64) * paint_density(ref)
    rest = (1.0 - np.asarray(share, dtype=np.float64)) * white.density
    return np.asarray(volume / (volume + rest))


def tints_at_lightness(
    K: Floats, S: Floats, white: White, targets: Sequence[float]
) -> tuple[Floats, Floats, Floats]:
    """Tints of given L*: (CIELAB (n, 3), shares by volume (n,), masstone CIELAB (3,)).

    Where a paint can't reach an L* the nearest it can is returned.
    """

    def lab(logit: Floats) -> Floats:
        return tint(K, S, white, 1.0 / (1.0 + np.exp(-logit)))

    ladder = lab(_LOGITS)
    goal = np.asarray(targets, dtype=np.float64)
    if goal.size == 0:
        return np.zeros((0, 3)), np.zeros(0), ladder[-1]
    L = np.minimum.accumulate(ladder[:, 0]) - 1e-9 * np.arange(len(_LOGITS))
    logit = np.interp(-goal, -L, _LOGITS)
    found = lab(logit)
    # One secant step from the interpolated share.
    slope = np.interp(logit, _LOGITS, np.gradient(L, _LOGITS))
    step = np.where(np.abs(slope) > 1e-3, (goal - found[:, 0]) / np.minimum(slope, -1e-3), 0.0)
    logit = np.clip(logit + np.clip(step, -0.4, 0.4), _LOGITS[0], _LOGITS[-1])
    return lab(logit), 1.0 / (1.0 + np.exp(-logit)), ladder[-1]


def colour_residual(lab: Floats, L: float, C: float, h: float) -> Floats:
    """Lightness, chroma and hue differences on CIEDE94's scale (chroma tolerance grows with C).

    Of colours darker than L* 30, chroma and hue count the less the darker they are.
    """
    a, b = lab[1], lab[2]
    rad = np.deg2rad(h)
    d_chroma = a * np.cos(rad) + b * np.sin(rad) - C
    d_hue = -a * np.sin(rad) + b * np.cos(rad)
    known = min(1.0, (max(L, 15.0) / DARK_L) ** 2)
    return np.array(
        (lab[0] - L, known * d_chroma / (1.0 + 0.045 * C), known * d_hue / (1.0 + 0.015 * C))
    )


def fact_residuals(facts: Sequence[Fact], K: Floats, S: Floats, white: White) -> Floats:
    """Every colour and share fact against curves K, S (36,), in standard deviations."""
    facts = [fact for fact in facts if fact.is_colour]
    aims = sorted({fact.kind[-3:] for fact in facts} & set(AIMS))
    tints, shares, masstone = tints_at_lightness(K, S, white, [AIMS[aim] for aim in aims])
    out: list[Floats] = []
    for fact in facts:
        v = fact.numbers
        if fact.kind == "masstone":
            r = colour_residual(masstone, v[0], v[1], v[2]) / MASSTONE_ERROR
        elif fact.kind == "tint_share10":
            tenth = by_volume(0.1, fact.ref, white)
            r = colour_residual(tint(K, S, white, float(tenth)), v[0], v[1], v[2]) / TINT_ERROR
        elif fact.kind.startswith("tint_"):
            aim = fact.kind[-3:]
            r = colour_residual(tints[aims.index(aim)], AIMS[aim], v[0], v[1])[1:] / TINT_ERROR
        else:
            share = shares[aims.index(fact.kind[-3:])]
            wanted = by_volume(v[0], fact.ref, white)
            r = np.array((_logit(share) - _logit(wanted),)) / SHARE_ERROR
        out.append(r / fact.tolerance)
    return np.concatenate(out) if out else np.zeros(0)


def _logit(share: Floats | float) -> float:
    p = float(np.clip(share, 1e-6, 1.0 - 1e-3))
    return float(np.log(p / (1.0 - p)))
