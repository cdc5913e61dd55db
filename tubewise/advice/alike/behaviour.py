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
    """What two paints are called beside each other: tubes by as little as tells them apart.

    By their names; by maker and line too where these are the same; by medium where all are.
    """
    tubes = [p.tube for p in (a, b)]
    ways = (
        tuple(t.name if t and t.name else p.name for p, t in zip((a, b), tubes, strict=True)),
        (a.name, b.name),
        tuple(
            f"{p.name} ({t.medium})" if t and t.medium else p.name
            for p, t in zip((a, b), tubes, strict=True)
        ),
    )
    first, second = next((way for way in ways if way[0] != way[1]), ways[1])
    return first, second


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Sight:
    """Both paints in one situation, CIELAB (DRAWS + 1, 3) each, and how far they are apart."""

    situation: str
    labs: Pair
    partners: str = ""
    parts: str = ""

    def difference(self, apart: Floats, names: tuple[str, str]) -> Difference:
        return difference(self.situation, *self.labs, self.partners, self.parts, names, apart)


def compare_behaviour(
    reference: Paint, paint: Paint, shelf: Shelf, companies: Sequence[Company] = ()
) -> Comparison:
    """Both paints alone, thin over white, in tints 1:3 and 1:10 and in each company.

    In tints and mixtures the second paint is taken in as many parts as make it pull as hard as the
    first, and thin it is laid as thick as looks nearest.
    """
    tint = ladder(reference, shelf)
    factor = strength_factor(reference, paint, tint)
    sights = (
        *_films(reference, paint, factor),
        *_mixed(reference, paint, factor, tint, shelf),
        *_mixed(reference, paint, factor, companies, shelf),
    )
    firsts, seconds = (np.stack([s.labs[side] for s in sights]) for side in (0, 1))
    apart = delta_e_2000(firsts, seconds)
    names = called(reference, paint)
    alone, thin, dark, *others = (
        s.difference(e, names) for s, e in zip(sights, apart, strict=True)
    )
    white = is_white(reference)
    deep = bool(max(firsts[0, 0, 0], seconds[0, 0, 0]) < DEEP_BELOW_L)
    uses = _uses(apart, len(tint), white, deep)
    in_use = np.mean(list(uses.values()), axis=0)
    # Hiding, the third, is among what decides for a white; two deep masstones decide nothing.
    decides = [n for n in range(len(sights)) if not (n == 0 and deep) and (n != 2 or white)]
    worst = apart[decides].max(axis=0)
    low, high = np.percentile(factor[1:], [2.5, 97.5])
    best, least, most = _interval(in_use)
    risk_of_yes, risk_of_no = risks(in_use, CLOSE)
    return Comparison(
        masstone=alone,
        undertone=thin,
        over_black=dark,
        tints=tuple(others[: len(tint)]),
        mixes=tuple(others[len(tint) :]),
        uses=tuple(Use(use, *_interval(e)) for use, e in uses.items()),
        factor=_three(float(factor[0])),
        factor_low=_three(float(low)),
        factor_high=_three(float(high)),
        in_use=best,
        in_use_expected=round(float(in_use[1:].mean()), 2),
        in_use_low=least,
        in_use_high=most,
        in_use_another=round(float((in_use[1:] >= CLOSE).mean()), 2),
        risk_of_yes=round(risk_of_yes, 2),
        risk_of_no=round(risk_of_no, 2),
        worst_low=_interval(worst)[1],
        worst_high=_interval(worst)[2],
        worst_risk_of_no=round(risks(worst, CLOSE)[1], 2),
        deciding_swatch=most_telling(daubs(reference, paint, tint[-1]), in_use),
        white=white,
        deep=deep,
    )


def _films(reference: Paint, paint: Paint, factor: Floats) -> tuple[_Sight, _Sight, _Sight]:
    """Alone, thin over white and thin over black."""
    thin = lab_thin(reference), lab_thin_by_eye(reference, paint, factor)
    # How well a film hides is no matter of tinting strength: the same film of each.
    dark = lab_thin(reference, ground=BLACK_GROUND), lab_thin(paint, ground=BLACK_GROUND)
    return (
        _Sight(situation="alone", labs=(lab_alone(reference), lab_alone(paint))),
        _Sight(situation="thin over white", labs=thin),
        _Sight(situation="thin over black", labs=dark),
    )


def _mixed(
    reference: Paint, paint: Paint, factor: Floats, companies: Sequence[Company], shelf: Shelf
) -> list[_Sight]:
    """In each company, with its partners' names and, where it does not name them, its parts."""
    body = shelf.pigment(WHITE)
    out = []
    for company in companies:
        partners = [p.name for p in company.paints if p is not body] or [body.name]
        named = company.name.startswith("tint") or company.name[0].isdigit()
        out.append(
            _Sight(
                situation=company.name,
                labs=(lab_with(reference, company), lab_with(paint, company, factor)),
                partners=" + ".join(partners),
                parts="" if named else company.parts_text,
            )
        )
    return out


def _uses(apart: Floats, tints: int, white: bool, deep: bool) -> dict[str, Floats]:
    """How far the paints are apart in each way of using them, (DRAWS + 1,); see `Comparison`.

    `apart` (situations, DRAWS + 1): alone, thin, over black, so many `tints`, then the mixtures.
    """
    found = {} if deep else {"alone": apart[0]}
    found["thin"] = apart[1]
    found["lightening" if white else "in tints"] = apart[3 : 3 + tints].mean(axis=0)
    if len(apart) > 3 + tints:
        found["in mixtures"] = apart[3 + tints :].mean(axis=0)
    return found


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
