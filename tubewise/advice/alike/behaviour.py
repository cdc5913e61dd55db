"""How two paints behave side by side: alone, thin, in tints, and in the mixtures that matter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from tubewise.advice.alike.difference import Difference
from tubewise.advice.alike.doubt import daubs, most_telling, risks
from tubewise.advice.alike.situations import Kind, by_use, sights
from tubewise.advice.alike.strength import strength_factor
from tubewise.advice.words.thresholds import CLOSE
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.paints.appearance import Company, is_white
from tubewise.paints.paint import Paint
from tubewise.paints.setting import Setting

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
    `white` that hiding decides too. In watercolour `masstone` is a strong wash, `undertone` a
    middle one, the only one of `tints` a pale one, and `over_black` None; `undertone` is None for
    body colour, which nobody lays thin.
    """

    masstone: Difference
    undertone: Difference | None
    over_black: Difference | None
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
        films = (self.masstone, self.undertone, *hiding)
        return (*(d for d in films if d is not None), *self.tints, *self.mixes)

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
            undertone=self.undertone.turned() if self.undertone else None,
            over_black=self.over_black.turned() if self.over_black else None,
            tints=tuple(d.turned() for d in self.tints),
            mixes=tuple(d.turned() for d in self.mixes),
            factor=three_digits(1.0 / self.factor),
            factor_low=three_digits(1.0 / self.factor_high),
            factor_high=three_digits(1.0 / self.factor_low),
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


def compare_behaviour(
    reference: Paint, paint: Paint, setting: Setting, companies: Sequence[Company] = ()
) -> Comparison:
    """Both paints in every situation of their setting and in each company, see `sights`.

    In tints and mixtures the second paint is taken in as many parts as make it pull as hard as the
    first, and thin it is laid as thick as looks nearest.
    """
    setting = setting.judging(reference)
    factor = strength_factor(reference, paint, setting)
    found = sights(reference, paint, factor, setting, companies)
    firsts, seconds = (np.stack([s.labs[side] for s in found]) for side in (0, 1))
    apart = delta_e_2000(firsts, seconds)
    names = called(reference, paint)
    rows: dict[str, list[Difference]] = {}
    for sight, e in zip(found, apart, strict=True):
        rows.setdefault(sight.kind, []).append(sight.difference(e, names))
    white = is_white(reference)
    deep = bool(max(firsts[0, 0, 0], seconds[0, 0, 0]) < DEEP_BELOW_L)
    uses = by_use(found, apart, deep)
    in_use = np.mean(list(uses.values()), axis=0)
    idle = idle_kinds(white=white, deep=deep)
    worst = apart[[n for n, sight in enumerate(found) if sight.kind not in idle]].max(axis=0)
    low, high = np.percentile(factor[1:], [2.5, 97.5])
    best, least, most = _interval(in_use)
    risk_of_yes, risk_of_no = risks(in_use, CLOSE)
    return Comparison(
        masstone=rows["alone"][0],
        undertone=next(iter(rows.get("thin", ())), None),
        over_black=next(iter(rows.get("dark", ())), None),
        tints=tuple(rows["tint"]),
        mixes=tuple(rows.get("mix", ())),
        uses=tuple(Use(use, *_interval(e)) for use, e in uses.items()),
        factor=three_digits(float(factor[0])),
        factor_low=three_digits(float(low)),
        factor_high=three_digits(float(high)),
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
        deciding_swatch=most_telling(daubs(reference, paint, setting), in_use),
        white=white,
        deep=deep,
    )


def idle_kinds(*, white: bool, deep: bool) -> set[Kind]:
    """The kinds of situation that decide nothing: hiding but for a white, two deep masstones."""
    alone: set[Kind] = {"alone"} if deep else set()
    return alone if white else alone | {"dark"}


def _interval(e: Floats) -> tuple[float, float, float]:
    """Best estimate and 95 % interval of draws (DRAWS + 1,)."""
    low, high = np.percentile(e[1:], [2.5, 97.5])
    return (
        round(float(e[0]), 2),
        round(float(min(low, e[0])), 2),
        round(float(max(high, e[0])), 2),
    )


def three_digits(value: float) -> float:
    """Three significant digits, as many as a ratio and its inverse can share."""
    return float(f"{value:.3g}")
