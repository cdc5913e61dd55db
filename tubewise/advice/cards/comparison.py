"""The comparison card: two to four tubes, each of the others compared with the first."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.advice.alike.compare import PARTNERS, Compared, compare
from tubewise.advice.binder import common
from tubewise.advice.cards.paint_facts import PaintFacts, facts_of
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.pigments.purpose import PRACTICE, Purpose

MOST = 4


@dataclass(frozen=True, slots=True)
class ComparisonCard:
    """Two to four paints, and each of the others compared with the first."""

    paints: tuple[PaintFacts, ...]
    compared: tuple[Compared, ...]


def comparison(
    terms: Sequence[str],
    shelf: Shelf,
    partners: Sequence[str] = (),
    medium: str = "",
    purpose: Purpose = PRACTICE,
) -> ComparisonCard:
    """Compare the first of two to four `terms` with each of the others, mixed with `partners`.

    Without partners the same three are taken for every pair; `medium` is that of pigments, and
    what does not last for the `purpose` is warned of. Raises
    UserError for another number of terms, or one that nobody knows.
    """
    if not 2 <= len(terms) <= MOST:
        raise UserError(f"a comparison card takes 2 to {MOST} tubes, not {len(terms)}")
    if len(set(terms)) < len(terms):
        raise UserError("name each tube once", where=", ".join(f"“{t}”" for t in terms))
    paints = [shelf.term(term) for term in terms]
    first, *others = terms
    if not partners:
        # Every column of the card shows the same mixtures, so that they can be read across.
        used = {ref for paint in paints for ref in paint.refs}
        partners = tuple(p for p in PARTNERS if p not in used) or ("PBk9",)
    medium = common([medium])
    return ComparisonCard(
        tuple(facts_of(paint, shelf, medium) for paint in paints),
        tuple(compare(first, other, shelf, partners, medium, purpose) for other in others),
    )
