"""What is held of each pigment: data/optics_facts.csv, one fact a row, each with its source."""

from __future__ import annotations

import csv
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from tubewise.errors import UserError
from tubewise.pigments.models import DATA, parse_terms

TERMS = ("bands", "edges")
WORDS = ("confidence", "note", "kin")
NUMBERS = ("floor", "step", "level")
COLOURS = ("masstone", "tint_L85", "tint_L70", "tint_L50", "tint_share10")
SHARES = ("share_L85", "share_L70", "share_L50")
KINDS = (*TERMS, *WORDS, *NUMBERS, *COLOURS, *SHARES)


@dataclass(frozen=True, slots=True, kw_only=True)
class Fact:
    """One row of optics_facts.csv: what is held of a pigment, how surely, and by whom.

    `tolerance` is against what facts of its kind are usually worth: 2 counts half as much.
    """

    ref: str
    kind: str
    value: str
    tolerance: float
    source: str

    @property
    def numbers(self) -> tuple[float, ...]:
        """The value read as numbers: L* C* h for a masstone, C* h for a tint, one for a share."""
        return tuple(float(part) for part in self.value.split())

    @property
    def is_colour(self) -> bool:
        """Whether it can be held against curves of K and S."""
        return self.kind in COLOURS or self.kind in SHARES


def read_facts(path: Path = DATA / "optics_facts.csv") -> dict[str, list[Fact]]:
    """Facts by pigment ref, in file order. Raises UserError with the line of a bad row."""
    facts: dict[str, list[Fact]] = {}
    with path.open(encoding="utf-8", newline="") as file:
        for line, row in enumerate(csv.DictReader(file), start=2):
            where = f"{path.name}, line {line}"
            if row["fact"] not in KINDS:
                raise UserError(
                    f"unknown fact {row['fact']!r}; known are {', '.join(KINDS)}", where=where
                )
            try:
                fact = Fact(
                    ref=row["ref"],
                    kind=row["fact"],
                    value=row["value"],
                    tolerance=float(row["tolerance"] or 1.0),
                    source=row["source"],
                )
                if fact.kind in TERMS:
                    parse_terms(fact.value)
                elif fact.kind not in WORDS:
                    _ = fact.numbers
            except ValueError as error:
                raise UserError(f"not a number: {error}", where=where) from None
            facts.setdefault(fact.ref, []).append(fact)
    return facts


def last(facts: Iterable[Fact], kind: str) -> Fact | None:
    """The last fact of a kind, or None."""
    return next((fact for fact in reversed(list(facts)) if fact.kind == kind), None)
