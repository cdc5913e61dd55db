"""Predictions of pigments that were left out, against their measurements."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from tools.fit.acrylics import white
from tools.fit.colours import White, colours
from tools.fit.everything import Fitted
from tools.fit.measured import Curve
from tools.fit.posterior import makers
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.pigments.spread import N, moved

ALONE, TINT, SAME_LIGHTNESS, PAIR, PAIR_WHITE = (
    "alone",
    "tints of equal parts",
    "tints of equal lightness",
    "mixtures with another",
    "mixtures with another and white",
)
KINDS = (ALONE, TINT, SAME_LIGHTNESS, PAIR, PAIR_WHITE)
TINT_SHARES = (0.05, 0.2, 0.5)
PAIR_SHARES = (0.25, 0.5, 0.75)
# One part each in four of white.
WHITE_PARTS = 4.0
DRAWS = 200
# Miss, 95 % radius, rank.
Outcome = tuple[float, float, float]
_LADDER = np.geomspace(1e-3, 1.0, 60)


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One prediction: its `miss` and its stated 95 % `radius`, both CIEDE2000.

    `rank` is the share of its draws that lie nearer to it than the truth does. `ref` is the pigment
    left out; `kind` one of `KINDS`; `source` where its measurement stands.
    """

    ref: str
    kind: str
    source: str
    what: str
    miss: float
    radius: float
    rank: float

    @property
    def holds(self) -> bool:
        """Whether the truth lies within the radius."""
        return self.miss <= self.radius


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """A pigment left out: measured, modelled (36,), and draws of the model (draws, 36)."""

    truth: tuple[Floats, Floats]
    best: tuple[Floats, Floats]
    drawn: tuple[Floats, Floats]

    def against(self, share: float, K: Floats, S: Floats) -> Outcome:
        """The outcome of its mixture with K, S (36,), of which it takes `share`."""
        seen, best, drawn = (
            colours(share * k + (1.0 - share) * K, share * s + (1.0 - share) * S)
            for k, s in (self.truth, self.best, self.drawn)
        )
        return _outcome(seen, best, drawn)


def _outcome(seen: Floats, best: Floats, drawn: Floats) -> Outcome:
    apart = delta_e_2000(drawn, best)
    miss = float(delta_e_2000(best, seen))
    return miss, float(np.percentile(apart, 95.0)), float(np.mean(apart < miss))


def held_against(found: Fitted, truth: Curve, seed: int = 2026) -> Held:
    """A pigment left out with its draws: what is unknown of it, and how makers differ."""
    rng = np.random.default_rng(seed)
    steps = rng.standard_normal((DRAWS, N)) @ found.root
    steps += rng.standard_normal((DRAWS, N)) * makers(found.ref)
    return Held(
        truth=(truth.K, truth.S), best=(found.K, found.S), drawn=moved(found.K, found.S, steps)
    )


def _as_light(K: Floats, S: Floats, paper: White, L: float) -> Floats:
    """CIELAB (3,) of the tint of K, S (36,) that is as light as asked, or as near as it comes."""
    c = _LADDER[:, None]
    lab = colours(c * K + (1.0 - c) * paper.K, c * S + (1.0 - c) * paper.S)
    order = np.argsort(-lab[:, 0], kind="stable")
    rungs = lab[order]
    return np.array([np.interp(-L, -rungs[:, 0], rungs[:, i]) for i in range(3)])


def checks(models: Mapping[str, Fitted], truths: Mapping[str, Curve]) -> Iterator[Check]:
    """Every check of every pigment left out; partners in mixtures are measured ones."""
    paper = white()
    for ref, found in models.items():
        against = held_against(found, truths[ref])

        def check(kind: str, what: str, outcome: Outcome, ref: str = ref) -> Check:
            miss, radius, rank = outcome
            return Check(
                ref=ref,
                kind=kind,
                source=truths[ref].source,
                what=what,
                miss=miss,
                radius=radius,
                rank=rank,
            )

        nothing = np.zeros_like(paper.K)
        yield check(ALONE, "", against.against(1.0, nothing, nothing))
        for share in TINT_SHARES:
            yield check(TINT, f"{share:.0%}", against.against(share, paper.K, paper.S))
            yield check(SAME_LIGHTNESS, f"{share:.0%}", _same_lightness(against, share, paper))
        for other, partner in truths.items():
            if other == ref:
                continue
            for share in PAIR_SHARES:
                outcome = against.against(share, partner.K, partner.S)
                yield check(PAIR, f"{other} {share:.0%}", outcome)
            total = 1.0 + WHITE_PARTS
            K = (partner.K + WHITE_PARTS * paper.K) / total
            S = (partner.S + WHITE_PARTS * paper.S) / total
            yield check(PAIR_WHITE, other, against.against(1.0 / (1.0 + total), K, S))


def _same_lightness(against: Held, share: float, paper: White) -> Outcome:
    """The outcome once the parts are set so that all tints are as light as the true one."""
    K, S = against.truth
    seen = colours(share * K + (1 - share) * paper.K, share * S + (1 - share) * paper.S)
    best = _as_light(*against.best, paper, float(seen[0]))
    pairs = zip(*against.drawn, strict=True)
    drawn = np.stack([_as_light(k, s, paper, float(seen[0])) for k, s in pairs])
    return _outcome(seen, best, drawn)
