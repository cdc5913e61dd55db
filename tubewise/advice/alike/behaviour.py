"""How two paints behave side by side: alone, thin, in tints, and in the mixtures that matter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.lab import lab_from_reflectance, lch_from_lab
from tubewise.colour.patch import Colour
from tubewise.colour.words import describe
from tubewise.optics.film import BLACK_GROUND
from tubewise.paints.appearance import (
    WHITE,
    Company,
    appearance,
    is_white,
    lab_alone,
    lab_thin,
    lab_with,
    mixed,
)
from tubewise.paints.paint import DRAWS, Paint

if TYPE_CHECKING:
    from tubewise.paints.shelf import Shelf


TINTS = (3.0, 10.0)
TESTER = "PB29"
# A paint can be squeezed more or less freely to pull as hard as another, within reason: with six
# times as much of a weak paint little room is left for anything else. common practice, no source.
FACTORS = np.exp(np.linspace(-np.log(6.0), np.log(6.0), 25))


@dataclass(frozen=True, slots=True)
class Difference:
    """How far one paint is from another in one situation.

    `delta_e00` is CIEDE2000 of the best estimates, `low` and `high` the 95 % interval;
    `hue_shift_deg` and `chroma_shift` are of the second against the first in CIELAB.
    """

    situation: str
    delta_e00: float
    low: float
    high: float
    lightness_shift: float
    chroma_shift: float
    hue_shift_deg: float
    words: str
    a: Colour
    b: Colour
    with_: str = field(default="", metadata={"json": "with"})
    parts: str = ""


def difference(
    situation: str, lab_a: Floats, lab_b: Floats, with_: str = "", parts: str = ""
) -> Difference:
    """The difference of two stacks of draws, lab (DRAWS + 1, 3), best estimate first."""
    e = delta_e_2000(lab_a, lab_b)
    low, high = np.percentile(e[1:], [2.5, 97.5])
    (La, aa, ba), (Lb, ab, bb) = lab_a[0], lab_b[0]
    Ca, Cb = float(np.hypot(aa, ba)), float(np.hypot(ab, bb))
    turn = float(np.degrees(np.arctan2(bb, ab) - np.arctan2(ba, aa)))
    turn = (turn + 180.0) % 360.0 - 180.0
    return Difference(
        situation,
        round(float(e[0]), 2),
        round(float(min(low, e[0])), 2),
        round(float(max(high, e[0])), 2),
        round(float(Lb - La), 2),
        round(Cb - Ca, 2),
        # The hue of a near-grey means nothing.
        round(turn if min(Ca, Cb) > 4.0 else 0.0, 1),
        describe(lab_a[0], lab_b[0]),
        Colour.of(lab_a[0]),
        Colour.of(lab_b[0]),
        with_,
        parts,
    )


def ladder(reference: Paint, shelf: Shelf) -> tuple[Company, ...]:
    """The mixtures that show a paint's strength: 1 part in 3 and in 10 of white.

    A white has no tint in white; it shows its strength by lightening a blue, 3 and 10 parts to 1.
    """
    if is_white(reference):
        blue = shelf.pigment(TESTER)
        return tuple(Company(f"{n:g}:1 with {TESTER}", (blue,), (1.0,), n) for n in TINTS)
    white = shelf.pigment(WHITE)
    return tuple(Company(f"tint 1:{n:g}", (white,), (n,), 1.0) for n in TINTS)


def strength_factor(reference: Paint, paint: Paint, steps: Sequence[Company]) -> Floats:
    """Parts of `paint` that do the work of one part of `reference`, (DRAWS + 1,).

    The factor for which the `steps` of the ladder come nearest in lightness and chroma, found for
    each draw: a painter
    adjusts by eye, so a weak batch costs paint, not colour. Within 1/6 to 6.
    """
    total = np.zeros((FACTORS.size, DRAWS + 1))
    for company in steps:
        target = lab_with(reference, company)
        K_rest, S_rest = mixed(company.paints, company.parts)
        c = company.own * FACTORS[:, None, None]
        c = c / (c + sum(company.parts))
        R = appearance(c * paint.K + (1.0 - c) * K_rest, c * paint.S + (1.0 - c) * S_rest)
        # Lightness and chroma alone: where hues differ, matching a* and b* too would favour
        # whichever tint is greyer.
        lch, aim = lch_from_lab(lab_from_reflectance(R)), lch_from_lab(target)
        total += ((lch[..., :2] - aim[..., :2]) ** 2).sum(axis=-1)
    best = np.clip(total.argmin(axis=0), 1, FACTORS.size - 2)
    # A parabola through the three lowest points finds the minimum between the grid's factors.
    d = np.arange(DRAWS + 1)
    y0, y1, y2 = total[best - 1, d], total[best, d], total[best + 1, d]
    bow = y0 - 2.0 * y1 + y2
    shift = np.where(bow > 0.0, 0.5 * (y0 - y2) / np.where(bow > 0.0, bow, 1.0), 0.0)
    step = np.log(FACTORS[1] / FACTORS[0])
    return np.asarray(FACTORS[best] * np.exp(np.clip(shift, -1.0, 1.0) * step))


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two paints in every situation; `factor` parts of the second replace one of the first."""

    masstone: Difference
    undertone: Difference
    over_black: Difference
    tints: tuple[Difference, ...]
    mixes: tuple[Difference, ...]
    factor: float
    factor_low: float
    factor_high: float
    worst_low: float
    worst_high: float
    deciding_swatch: str
    white: bool

    @property
    def all(self) -> tuple[Difference, ...]:
        """Every situation that decides, alone first; for a white, hiding is one of them."""
        hiding = (self.over_black,) if self.white else ()
        return (self.masstone, self.undertone, *hiding, *self.tints, *self.mixes)

    @property
    def worst(self) -> Difference:
        """The situation in which they differ most."""
        return max(self.all, key=lambda d: d.delta_e00)


def most_telling(swatches: Sequence[tuple[str, Floats]], worst: Floats) -> str:
    """Which single swatch would tell most about the largest difference.

    `swatches`: names and the colours (DRAWS + 1, 3) each might show; `worst`: (DRAWS + 1,). The
    expected drop in the variance of `worst` once a swatch is measured to one CIELAB unit, by
    linear regression over the draws (Gaussian conditioning). "" when none would tell anything.
    """
    y = worst[1:] - worst[1:].mean()
    told: dict[str, float] = {}
    for name, lab in swatches:
        X = lab[1:] - lab[1:].mean(axis=0)
        cov = X.T @ y / y.size
        told[name] = float(cov @ np.linalg.solve(X.T @ X / y.size + np.eye(3), cov))
    best = max(told, key=lambda name: told[name], default="")
    return best if best and told[best] > 1e-3 else ""


def compare_behaviour(
    reference: Paint, paint: Paint, shelf: Shelf, companies: Sequence[Company] = ()
) -> Comparison:
    """Both paints alone, thin over white, in tints 1:3 and 1:10 and in each company.

    In tints and mixtures the second paint is taken in as many parts, and thin it is laid as much
    thicker, as make it pull as hard as the first.
    """
    tint = ladder(reference, shelf)
    factor = strength_factor(reference, paint, tint)
    alone = lab_alone(reference), lab_alone(paint)
    thin = lab_thin(reference), lab_thin(paint, factor)
    # How well a film hides is no matter of tinting strength: the same film of each.
    dark = (
        lab_thin(reference, ground=BLACK_GROUND),
        lab_thin(paint, ground=BLACK_GROUND),
    )
    joined = [(lab_with(reference, c), lab_with(paint, c, factor)) for c in (*tint, *companies)]

    def told(company: Company, labs: tuple[Floats, Floats]) -> Difference:
        body = shelf.pigment(WHITE)
        partners = [p.name for p in company.paints if p is not body] or [body.name]
        parts = "" if company in tint else company.parts_text
        return difference(company.name, *labs, with_=" + ".join(partners), parts=parts)

    everything = [alone, thin, *joined]
    white = is_white(reference)
    if white:
        everything.append(dark)
    worst = np.max([delta_e_2000(a, b) for a, b in everything], axis=0)
    names = ["alone", "scraped thin over white"]
    names += [
        f"mixed {c.parts_text} with " + " and ".join(p.name for p in c.paints)
        for c in (*tint, *companies)
    ]
    if white:
        names.append("scraped thin over black")
    swatches = [
        (f"{p.name} {name}", labs[side])
        for name, labs in zip(names, everything, strict=True)
        for side, p in enumerate((reference, paint))
        if p.tube is not None or side == 1
    ]
    low, high = np.percentile(factor[1:], [2.5, 97.5])
    worst_low, worst_high = np.percentile(worst[1:], [2.5, 97.5])
    return Comparison(
        difference("alone", *alone),
        difference("thin over white", *thin),
        difference("thin over black", *dark),
        tuple(told(c, labs) for c, labs in zip(tint, joined[: len(tint)], strict=True)),
        tuple(told(c, labs) for c, labs in zip(companies, joined[len(tint) :], strict=True)),
        round(float(factor[0]), 2),
        round(float(low), 2),
        round(float(high), 2),
        round(float(min(worst_low, worst[0])), 2),
        round(float(max(worst_high, worst[0])), 2),
        most_telling(swatches, worst),
        white,
    )
