"""Verdicts on pairs of which one pigment was left out, against those on its measurement."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from tools.accuracy.checks import held_against
from tools.fit.everything import Fitted
from tools.fit.measured import Curve
from tubewise.advice.alike.behaviour import Comparison, compare_behaviour
from tubewise.advice.alike.compare import PARTNERS, companies
from tubewise.advice.alike.identity import DIFFERENT
from tubewise.advice.alike.judgement import NO, UNSURE, step_of
from tubewise.advice.alike.strength import first_of
from tubewise.colour.arrays import Floats
from tubewise.paints.paint import DRAWS, Paint
from tubewise.paints.shelf import Shelf
from tubewise.pigments.ref import Ref
from tubewise.pigments.trust import MODELLED, PUBLISHED, Basis

# Farther apart in truth than this, a pair puts no verdict to the test.
NEAR = 12.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Verdict:
    """What is said of a pair with one pigment left out, and what its measurement says.

    `foretold` is the step with `ref` left out and `truth` that by its measurement; `apart` is how
    far they are apart in use, CIEDE2000, in truth; `chance` of another colour as it was stated.
    """

    ref: str
    other: str
    foretold: str
    truth: str
    apart: float
    chance: float

    @property
    def torn(self) -> bool:
        """Whether the tool says itself that it does not know."""
        return UNSURE < self.chance < 1.0 - UNSURE

    @property
    def right(self) -> bool:
        """Whether a person is told to use it where they may, and not to where they may not."""
        return (self.foretold == NO) == (self.truth == NO)


def verdicts(models: Mapping[str, Fitted], truths: Mapping[str, Curve]) -> Iterator[Verdict]:
    """Each pigment left out beside each other measured one that is near it in truth."""
    shelf = Shelf()
    for ref, found in models.items():
        against = held_against(found, truths[ref])
        K, S = (
            np.concatenate([best[None], drawn[:DRAWS]])
            for best, drawn in zip(against.best, against.drawn, strict=True)
        )
        foretold = _paint(ref, K, S, MODELLED)
        truth = _paint(ref, _known(against.truth[0]), _known(against.truth[1]), PUBLISHED)
        for other, curve in truths.items():
            if other == ref:
                continue
            partner = _paint(other, _known(curve.K), _known(curve.S), PUBLISHED)
            seen = _seen(truth, partner, shelf)
            if seen.in_use > NEAR:
                continue
            guessed = _seen(foretold, partner, shelf)
            yield Verdict(
                ref=ref,
                other=other,
                foretold=step_of(DIFFERENT, guessed),
                truth=step_of(DIFFERENT, seen),
                apart=seen.in_use,
                chance=guessed.in_use_another,
            )


def _known(curve: Floats) -> Floats:
    return np.tile(curve, (DRAWS + 1, 1))


def _paint(ref: str, K: Floats, S: Floats, basis: Basis) -> Paint:
    return Paint(
        name=ref,
        tube=None,
        refs=(Ref(ref),),
        shares=(1.0,),
        K=K,
        S=S,
        basis=basis,
        confidence="low",
    )


def _seen(a: Paint, b: Paint, shelf: Shelf) -> Comparison:
    named = [p for p in PARTNERS if p not in (a.name, b.name)]
    first, second = (a, b) if first_of(a, b) else (b, a)
    return compare_behaviour(
        first, second, shelf.setting(), companies(shelf, named, shelf.setting())
    )


def verdict_table(found: Sequence[Verdict]) -> str:
    """How often the advice to use a paint or not was right, by how sure it was said to be."""
    lines = ["| pairs | n | right | wrong by, median |", "| --- | ---: | ---: | ---: |"]
    groups = (
        ("all", list(found)),
        ("where the tool is sure", [v for v in found if not v.torn]),
        ("where it says that it is not", [v for v in found if v.torn]),
        ("from 3 to 8 apart in truth", [v for v in found if 3.0 <= v.apart <= 8.0]),
    )
    for name, part in groups:
        wrong = [abs(v.apart - 5.0) for v in part if not v.right]
        by = f"{np.median(wrong):.1f}" if wrong else ""
        right = np.mean([v.right for v in part]) if part else 0.0
        lines.append(f"| {name} | {len(part)} | {right:.0%} | {by} |")
    return "\n".join(lines)
