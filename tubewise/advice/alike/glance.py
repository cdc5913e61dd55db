"""Many paints beside one at a glance: the best estimates alone, without what is uncertain.

What ranks stand-ins and mixtures are best estimates. A paint's best estimate is one row of its
draws, and every situation is worked out row by row, so that the rows of one comparison can as well
hold as many different paints: the same sums by the same code, for fifty pairs at the price of one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from tubewise.advice.alike.behaviour import DEEP_BELOW_L, idle_kinds, three_digits
from tubewise.advice.alike.situations import sights
from tubewise.advice.alike.strength import strength_factor
from tubewise.advice.words.thresholds import CLOSE
from tubewise.colour.arrays import Floats
from tubewise.colour.difference import delta_e_2000
from tubewise.paints.appearance import Company, is_white
from tubewise.paints.paint import DRAWS, Paint
from tubewise.paints.setting import Setting

ROWS = DRAWS + 1


@dataclass(frozen=True, slots=True)
class Glance:
    """What `Comparison` says of the best estimates of two paints.

    `worst` is the CIEDE2000 of the situation that differs most, `factor` the parts of the second
    for one of the first; `another` whether they are another colour in any situation that decides,
    `another_colour` the same but for hiding.
    """

    worst: float
    factor: float
    another: bool
    another_colour: bool


def glances(
    reference: Paint, paints: Sequence[Paint], setting: Setting, companies: Sequence[Company] = ()
) -> list[Glance]:
    """Each of `paints` beside `reference`, as `compare_behaviour` would find their best estimates.

    In the order of `paints`.
    """
    setting = _at_best(setting.judging(reference))
    companies = [_company_at_best(company) for company in companies]
    first = at_best(reference)
    found: dict[int, Glance] = {}
    for numbers in _bundles(paints, setting):
        some = [paints[number] for number in numbers]
        bundle = replace(
            some[0],
            K=_rows([paint.K[0] for paint in some]),
            S=_rows([paint.S[0] for paint in some]),
            load=None,
        )
        found.update(zip(numbers, _bundle(first, bundle, setting, companies), strict=False))
    return [found[number] for number in range(len(paints))]


def _bundle(
    reference: Paint, bundle: Paint, setting: Setting, companies: Sequence[Company]
) -> Iterator[Glance]:
    """One glance for each row."""
    factor = strength_factor(reference, bundle, setting)
    found = sights(reference, bundle, factor, setting, companies)
    apart = np.stack([delta_e_2000(*sight.labs) for sight in found])
    alone = found[0].labs
    deep = np.maximum(alone[0][:, 0], alone[1][:, 0]) < DEEP_BELOW_L
    white = is_white(reference)
    for row in range(ROWS):
        idle = idle_kinds(white=white, deep=bool(deep[row]))
        deciding = [n for n, sight in enumerate(found) if sight.kind not in idle]
        colours = [n for n in deciding if found[n].kind != "dark"]
        # Differences are told, and judged, to two decimals.
        worst, worst_colour = (
            round(float(apart[some, row].max()), 2) for some in (deciding, colours)
        )
        yield Glance(worst, three_digits(float(factor[row])), worst >= CLOSE, worst_colour >= CLOSE)


def _bundles(paints: Sequence[Paint], setting: Setting) -> Iterator[list[int]]:
    """Numbers of paints that go into one bundle: among watercolours, whites are laid otherwise."""
    numbers = list(range(len(paints)))
    white = [setting.in_washes and is_white(paints[number]) for number in numbers]
    for kind in (False, True):
        alike = [number for number in numbers if white[number] == kind]
        for start in range(0, len(alike), ROWS):
            yield alike[start : start + ROWS]


def _rows(best: list[Floats]) -> Floats:
    """Best estimates (n, 36) as a whole stack, the last repeated."""
    stack = np.stack(best)
    return np.concatenate([stack, np.repeat(stack[-1:], ROWS - len(best), axis=0)])


def at_best(paint: Paint) -> Paint:
    """A paint of which nothing is uncertain: every draw is the best estimate."""
    shape = paint.K.shape
    return replace(
        paint, K=np.broadcast_to(paint.K[0], shape), S=np.broadcast_to(paint.S[0], shape), load=None
    )


def _company_at_best(company: Company) -> Company:
    return replace(company, paints=tuple(map(at_best, company.paints)))


def _at_best(setting: Setting) -> Setting:
    return replace(setting, lightener=at_best(setting.lightener), tester=at_best(setting.tester))
