"""One line of the list of stand-ins: a tube, and what takes its place."""

from __future__ import annotations

from dataclasses import asdict, dataclass, fields
from typing import Any

from tubewise.advice.alike.standin_results import StandIn, StandIns
from tubewise.pigments.permanence import own_cautions
from tubewise.tubes.tube import Tube

SINGLE = "tube"
MIXTURE = "mixture"
NOTHING = "nothing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One stand-in of `tube`, the `rank`-th, made on `date` (ISO 8601).

    `kind` is `tube`, `mixture` or, where there is none, `nothing`, with the reason. `instead` is
    the stand-in's id, or its parts; `price` that of the whole tube, None for a mixture.
    """

    tube: str
    title: str
    medium: str
    sold_out: bool
    rank: int
    kind: str
    instead: str = ""
    instead_title: str = ""
    does: bool = False
    verdict: str
    reason: str = ""
    warning: str = ""
    cautions: str = ""
    worst_delta_e00: float | None = None
    low: float | None = None
    high: float | None = None
    confidence: str = ""
    price: float | None = None
    price_per_ml: float | None = None
    currency: str = ""
    date: str


COLUMNS = tuple(field.name for field in fields(Line))


def lines_of(tube: Tube, answer: StandIns, date: str) -> list[Line]:
    """The lines of an answer; one that says why where it is empty."""
    if not answer.standins:
        return [nothing(tube, answer.words, date)]
    return [_line(tube, rank, found, date) for rank, found in enumerate(answer.standins, 1)]


def nothing(tube: Tube, why: str, date: str) -> Line:
    """The line of a tube that nothing stands in for."""
    return Line(
        tube=tube.id,
        title=tube.title,
        medium=tube.medium,
        sold_out=tube.stock == 0,
        rank=1,
        kind=NOTHING,
        verdict=why,
        date=date,
    )


def _line(tube: Tube, rank: int, found: StandIn, date: str) -> Line:
    recipe = found.recipe
    parts = " + ".join(f"{part.tube} {part.parts:g}" for part in recipe.parts) if recipe else ""
    return Line(
        tube=tube.id,
        title=tube.title,
        medium=tube.medium,
        sold_out=tube.stock == 0,
        rank=rank,
        kind=MIXTURE if recipe else SINGLE,
        instead=found.tube or parts,
        instead_title=found.title,
        does=found.does,
        verdict=found.words,
        reason="; ".join((*found.reasons, *found.character)),
        warning=found.warning,
        cautions=_cautions(found),
        worst_delta_e00=found.worst_delta_e00,
        low=found.low,
        high=found.high,
        confidence=found.confidence,
        price=found.price,
        price_per_ml=None if found.price_per_ml is None else round(found.price_per_ml, 4),
        currency=found.currency,
        date=date,
    )


def _cautions(found: StandIn) -> str:
    """What is to be heeded, by its kind; "" where the register has nothing."""
    kinds = ", ".join(dict.fromkeys(caution.kind for caution in own_cautions(found.cautions)))
    return f"{kinds} (label, safety data sheet and local rules come first)" if kinds else ""


def tubes_in(line: Line) -> tuple[str, ...]:
    """The ids of the tubes that a line offers."""
    if line.kind == NOTHING:
        return ()
    if line.kind == SINGLE:
        return (line.instead,)
    return tuple(part.rpartition(" ")[0] for part in line.instead.split(" + "))


def document(line: Line) -> dict[str, Any]:
    """A line as JSON values; `Line(**document)` gives it back."""
    return asdict(line)
