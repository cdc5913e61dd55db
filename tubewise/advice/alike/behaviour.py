"""How two paints behave side by side: alone, thin, in tints, and in the mixtures that matter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from tubewise.advice.alike.difference import Difference, difference
from tubewise.advice.alike.doubt import daubs, most_telling, risks
from tubewise.advice.alike.strength import lab_thin_by_eye, ladder, strength_factor
from tubewise.advice.words.thresholds import CLOSE
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.optics.film import BLACK_GROUND
from tubewise.paints.appearance import WHITE, Company, is_white, lab_alone, lab_thin, lab_with
from tubewise.paints.paint import Paint

if TYPE_CHECKING:
    from tubewise.paints.shelf import Shelf

Pair = tuple[Floats, Floats]

# Below this L* of both, neither eye nor instrument knows much of a masstone's hue, and what is seen
# is mostly the film's skin: it decides nothing. common practice, no source.
DEEP_BELOW_L = 30.0


@dataclass(frozen=True, slots=True)
class Use:
    """How far two paints are apart in one way of using them, CIEDE2000 with its 95 % interval."""

    use: str
    delta_e00: float
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """Two paints in every situation; `factor` parts of the second replace one of the first.

    `uses` are alone, thin, in tints and in mixtures, each the mean of its situations; `in_use` is
    their mean, `in_use_expected` its mean over what is uncertain, and `in_use_another` the chance
    that it makes another colour. What a yes or a no in use is expected to miss by, and a no to the
    worst situation, see `risks`. `deep` says that both masstones are too dark to decide anything,
    `white` that hiding decides too.
    """

    masstone: Difference
    undertone: Difference
    over_black: Difference
    tints: tuple[Difference, ...]
    mixes: tuple[Difference, ...]
    uses: tuple[Use, ...]
    factor: float
    factor_low: float
    factor_high: float
    in_use: float
    in_use_expected: float
    in_use_low: float
    in_use_high: float
    in_use_another: float
    risk_of_yes: float
    risk_of_no: float
    worst_low: float
    worst_high: float
    worst_risk_of_no: float
    deciding_swatch: str
    white: bool
    deep: bool

    @property
    def all(self) -> tuple[Difference, ...]:
        """Every situation, alone first; for a white, hiding is one of them."""
        hiding = (self.over_black,) if self.white else ()
        return (self.masstone, self.undertone, *hiding, *self.tints, *self.mixes)

    @property
    def deciding(self) -> tuple[Difference, ...]:
        """Every situation that decides: all but two deep masstones."""
        return self.all[1:] if self.deep else self.all

    @property
    def worst(self) -> Difference:
        """The situation in which they differ most."""
        return max(self.deciding, key=lambda d: d.delta_e00)

    def turned(self) -> Comparison:
        """The same of the first paint beside the second."""
        return replace(
            self,
            masstone=self.masstone.turned(),
            undertone=self.undertone.turned(),
            over_black=self.over_black.turned(),
            tints=tuple(d.turned() for d in self.tints),
            mixes=tuple(d.turned() for d in self.mixes),
            factor=_three(1.0 / self.factor),
            factor_low=_three(1.0 / self.factor_high),
            factor_high=_three(1.0 / self.factor_low),
        )


def called(a: Paint, b: Paint) -> tuple[str, str]:
    """What two paints are called beside each other: tubes by their names where these differ."""
    short = tuple(p.tube.name if p.tube is not None and p.tube.name else p.name for p in (a, b))
    return (short[0], short[1]) if short[0] != short[1] else (a.name, b.name)


def compare_behaviour(
    reference: Paint, paint: Paint, shelf: Shelf, companies: Sequence[Company] = ()
) -> Comparison:
    """Both paints alone, thin over white, in tints 1:3 and 1:10 and in each company.

    In tints and mixtures the second paint is taken in as many parts as make it pull as hard as the
    first, and thin it is laid as thick as looks nearest.
    """
    tint = ladder(reference, shelf)
    factor = strength_factor(reference, paint, tint)
    alone = lab_alone(reference), lab_alone(paint)
    thin = lab_thin(reference), lab_thin_by_eye(reference, paint, factor)
    # How well a film hides is no matter of tinting strength: the same film of each.
    dark = lab_thin(reference, ground=BLACK_GROUND), lab_thin(paint, ground=BLACK_GROUND)
    tints, mixes = (
        [(lab_with(reference, c), lab_with(paint, c, factor)) for c in some]
        for some in (tint, companies)
    )
    white = is_white(reference)
    deep = max(alone[0][0, 0], alone[1][0, 0]) < DEEP_BELOW_L
    uses = {} if deep else {"alone": [alone]}
    uses |= {"thin": [thin], "lightening" if white else "in tints": tints}
    uses |= {"in mixtures": mixes} if mixes else {}
    apart = {use: np.mean([delta_e_2000(*p) for p in pairs], axis=0) for use, pairs in uses.items()}
    in_use = np.mean(list(apart.values()), axis=0)
    decides: list[Pair] = [pair for pairs in uses.values() for pair in pairs]
    worst = np.max([delta_e_2000(*p) for p in (*decides, *([dark] if white else []))], axis=0)
    names = called(reference, paint)
    low, high = np.percentile(factor[1:], [2.5, 97.5])
    best, least, most = _interval(in_use)
    return Comparison(
        masstone=difference("alone", *alone, names=names),
        undertone=difference("thin over white", *thin, names=names),
        over_black=difference("thin over black", *dark, names=names),
        tints=_differences(tint, tints, shelf, names, ladder_steps=True),
        mixes=_differences(companies, mixes, shelf, names),
        uses=tuple(Use(use, *_interval(e)) for use, e in apart.items()),
        factor=_three(float(factor[0])),
        factor_low=_three(float(low)),
        factor_high=_three(float(high)),
        in_use=best,
        in_use_expected=round(float(in_use[1:].mean()), 2),
        in_use_low=least,
        in_use_high=most,
        in_use_another=round(float((in_use[1:] >= CLOSE).mean()), 2),
        risk_of_yes=round(risks(in_use, CLOSE)[0], 2),
        risk_of_no=round(risks(in_use, CLOSE)[1], 2),
        worst_low=_interval(worst)[1],
        worst_high=_interval(worst)[2],
        worst_risk_of_no=round(risks(worst, CLOSE)[1], 2),
        deciding_swatch=most_telling(daubs(reference, paint, tint[-1]), in_use),
        white=white,
        deep=bool(deep),
    )


def _differences(
    companies: Sequence[Company],
    pairs: Sequence[Pair],
    shelf: Shelf,
    names: tuple[str, str],
    ladder_steps: bool = False,
) -> tuple[Difference, ...]:
    """One difference for each company, with its partners' names and its parts."""
    body = shelf.pigment(WHITE)
    out = []
    for company, pair in zip(companies, pairs, strict=True):
        partners = [p.name for p in company.paints if p is not body] or [body.name]
        parts = "" if ladder_steps else company.parts_text
        out.append(difference(company.name, *pair, " + ".join(partners), parts, names))
    return tuple(out)


def _interval(e: Floats) -> tuple[float, float, float]:
    """Best estimate and 95 % interval of draws (DRAWS + 1,)."""
    low, high = np.percentile(e[1:], [2.5, 97.5])
    return (
        round(float(e[0]), 2),
        round(float(min(low, e[0])), 2),
        round(float(max(high, e[0])), 2),
    )


def _three(value: float) -> float:
    """Three significant digits, as many as a ratio and its inverse can share."""
    return float(f"{value:.3g}")
