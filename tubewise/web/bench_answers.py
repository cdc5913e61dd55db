"""A mixture by hand, and how far it is from a target."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from tubewise.advice.recipes.target import Target
from tubewise.colour.difference import delta_e_2000
from tubewise.colour.words import describe
from tubewise.errors import UserError
from tubewise.paints.mixing import Mixture, mix
from tubewise.tubes.parts_written import MOST_PARTS, part_of
from tubewise.web.holdings import Holdings
from tubewise.web.targets import target_of

MOST_ON_BENCH = 8


@dataclass(frozen=True, slots=True)
class Bench:
    """A mixture by hand, beside its target where there is one."""

    mixture: Mixture | None
    target: Target | None
    delta_e00: float | None
    words: str


def parts_of(terms: list[str]) -> list[tuple[str, float]]:
    """`TERM=PARTS` of an address. Raises UserError for anything else."""
    found = []
    for text in terms:
        written = part_of(text)
        if not written.given:
            raise UserError(
                f"Write a paint and its parts, from 0 to {MOST_PARTS:g}, as PV19/gamma=2.",
                where=f"“{text}”",
            )
        found.append((written.term, written.parts))
    if len(found) > MOST_ON_BENCH:
        raise UserError(f"At most {MOST_ON_BENCH} paints fit on the bench.")
    return found


def bench_of(holdings: Holdings, target_text: str, parts: list[tuple[str, float]]) -> Bench:
    """The mixture of parts by hand, and how far from the target it is."""
    used = [(holdings.shelf.term(term), n) for term, n in parts if n > 0]
    mixture = mix([paint for paint, _ in used], [n for _, n in used]) if used else None
    target = target_of(holdings, target_text) if target_text.strip() else None
    if mixture is None or target is None:
        words = mixture.colour.name if mixture else "nothing mixed yet"
        return Bench(mixture, target, None, words)
    lab = np.array(mixture.colour.lab)
    delta_e00 = round(float(delta_e_2000(target.lab, lab)), 2)
    return Bench(mixture, target, delta_e00, describe(target.lab, lab))
