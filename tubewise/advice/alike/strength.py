"""How many parts of one paint do the work of one part of another."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from tubewise.advice.words.thresholds import MOST_PARTS
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance, lch_from_lab
from tubewise.optics.film import WHITE_GROUND
from tubewise.paints.appearance import Company, appearance, is_white, mixed
from tubewise.paints.paint import DRAWS, Paint
from tubewise.paints.setting import Setting
from tubewise.paints.wash import WASHES, wash

# As far as strengths are looked for: lamp black has seven times the strength of bone black.
FURTHEST = 16.0
# Logarithms of the factors that are tried: even steps all over, then finer ones about the best.
COARSE = np.linspace(-np.log(FURTHEST), np.log(FURTHEST), 13)
FINE = np.linspace(-1.0, 1.0, 7) * (COARSE[1] - COARSE[0])
# A thin film is laid by eye: up to three times as thick as the strength in tints makes it, or as
# thin.
THICKNESSES = np.exp(np.linspace(-np.log(3.0), np.log(3.0), 9))
# Paints nearer than this in strength are of one strength to the hand.
ALIKE = 1.2
# From here on strengths are said in halves: "twice"; below, a half would be half of what is said.
TWICE = 1.75


def strength_factor(reference: Paint, paint: Paint, setting: Setting) -> Floats:
    """Parts of `paint` that do the work of one part of `reference`, (DRAWS + 1,).

    The factor for which the steps of the ladder come nearest in lightness and chroma, found for
    each draw: a painter adjusts by eye, so a weak batch costs paint, not colour. Within 1/16 to 16.
    """
    steps = setting.ladder(reference)
    targets = [lch_from_lab(setting.lab_with(reference, c))[..., :2] for c in steps]
    logs = np.broadcast_to(COARSE[:, None], (COARSE.size, DRAWS + 1))
    best = _misfit(paint, setting, steps, targets, logs).argmin(axis=0)
    # Then finer about the best of each draw; a parabola finds the minimum between these.
    middle = np.clip(COARSE[best], COARSE[1], COARSE[-2])
    logs = middle + FINE[:, None]
    total = _misfit(paint, setting, steps, targets, logs)
    best = np.clip(total.argmin(axis=0), 1, FINE.size - 2)
    d = np.arange(DRAWS + 1)
    y0, y1, y2 = total[best - 1, d], total[best, d], total[best + 1, d]
    bow = y0 - 2.0 * y1 + y2
    shift = np.where(bow > 0.0, 0.5 * (y0 - y2) / np.where(bow > 0.0, bow, 1.0), 0.0)
    return np.asarray(np.exp(logs[best, d] + np.clip(shift, -1.0, 1.0) * (FINE[1] - FINE[0])))


def _misfit(
    paint: Paint,
    setting: Setting,
    steps: Sequence[Company],
    targets: Sequence[Floats],
    logs: Floats,
) -> Floats:
    """How far tints of `paint` are from `targets` (DRAWS + 1, 2) in lightness and chroma.

    `logs` (n, DRAWS + 1) are the logarithms of its factors; so is the answer's shape.
    """
    total = np.zeros(logs.shape)
    for company, target in zip(steps, targets, strict=True):
        K_rest, S_rest = mixed(company.paints, company.parts)
        c = company.own * np.exp(logs)[..., None]
        c = c / (c + sum(company.parts))
        R = setting.reads(c * paint.K + (1.0 - c) * K_rest, c * paint.S + (1.0 - c) * S_rest)
        # Lightness and chroma alone: where hues differ, matching a* and b* too would favour
        # whichever tint is greyer.
        total += ((lch_from_lab(lab_from_reflectance(R))[..., :2] - target) ** 2).sum(axis=-1)
    return total


def lab_thin_by_eye(reference: Paint, paint: Paint, factor: Floats, setting: Setting) -> Floats:
    """`paint` thin over white, laid as thick as brings it nearest to `reference`; (DRAWS + 1, 3).

    Nobody measures a thin film, nor the water of a wash: it is brushed out until it looks right.
    `factor` (DRAWS + 1,) is the strength in tints, about which its thickness is looked for.
    """
    film = (THICKNESSES[:, None] * factor)[..., None]
    lab = _thin(paint.K * film, paint.S * film, setting)
    best = delta_e_2000(lab, lab_thinned(reference, setting)).argmin(axis=0)
    return np.asarray(lab[best, np.arange(DRAWS + 1)])


def lab_thinned(paint: Paint, setting: Setting) -> Floats:
    """A thin film over white, or a middle wash on paper; (DRAWS + 1, 3)."""
    return _thin(paint.K, paint.S, setting)


def _thin(K: Floats, S: Floats, setting: Setting) -> Floats:
    """CIELAB (..., 3) of a thin film over white, or of a middle wash on paper."""
    if setting.in_washes:
        return lab_from_reflectance(wash(K, S, WASHES["middle"]))
    return lab_from_reflectance(appearance(K, S, "thin", WHITE_GROUND, setting.surface))


def tinting_strength(paint: Paint) -> float:
    """What a paint absorbs, the mean of K (white S = 1 at 560 nm).

    In a tint the white scatters nearly all, so that K/S there, by which ASTM D4838 compares the
    tinting strength of paints, goes with the paint's own K.
    """
    return float(paint.K[0].mean())


def pull(paint: Paint) -> tuple[bool, float]:
    """Sort key of a paint's strength: those that tint by what they absorb, then whites."""
    white = is_white(paint)
    return not white, float(paint.S[0].mean() if white else tinting_strength(paint))


def first_of(a: Paint, b: Paint) -> bool:
    """Whether `a` is the one of which one part is taken: the stronger.

    Which of two is named first must not decide in which tints they are compared.
    """
    key_a, key_b = pull(a), pull(b)
    if key_a != key_b:
        return key_a > key_b
    return _label(a) <= _label(b)


def _label(paint: Paint) -> str:
    return paint.tube.id if paint.tube is not None else paint.name


def parts_words(factor: float) -> str:
    """A strength factor as a painter says it, or "" when the two pull alike."""
    if factor > ALIKE:
        return f"{_far(factor)}weaker: about {_handy(factor)} parts do the work of 1"
    if factor < 1.0 / ALIKE:
        inverse = 1.0 / factor
        return f"{_far(inverse)}stronger: 1 part does the work of about {_handy(inverse)}"
    return ""


def amount_words(factor: float, name: str) -> str:
    """How much of the paint called `name` to take: `take twice as much of PB28`; "" for as much."""
    if factor > ALIKE:
        return f"take {_times(factor)} as much of {name}"
    inverse = 1.0 / factor
    if inverse <= ALIKE:
        return ""
    if TWICE <= inverse < 2.25:
        return f"take half as much of {name}"
    return f"1 part of {name} does the work of about {_handy(inverse)}"


def _times(factor: float) -> str:
    if factor < TWICE:
        return f"{_handy(factor)} times"
    return "twice" if factor < 2.25 else f"about {_handy(factor)} times"


def _far(factor: float) -> str:
    return "far " if factor > MOST_PARTS else ""


def _handy(factor: float) -> str:
    if factor >= FURTHEST - 0.5:
        return f"{FURTHEST:g} or more"
    return f"{factor:.1f}" if factor < TWICE else f"{round(2.0 * factor) / 2.0:g}"
