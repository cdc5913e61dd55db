"""Other tubes that a person at the counter should know of: the same inside, or the same outside."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from tubewise.advice.alike.names import plain_name
from tubewise.advice.currency import compared, usual_currency
from tubewise.tubes.tube import Tube


def same_pigments(tube: Tube, others: Iterable[Tube]) -> list[Tube]:
    """Tubes of its medium that declare the same pigments, the cheapest by volume first.

    Those without a price or a size come last.
    """
    inside = sorted(tube.refs)
    kin = [
        other
        for other in others
        if other.id != tube.id
        and other.medium == tube.medium
        and inside
        and sorted(other.refs) == inside
    ]
    return cheapest_first(kin)


def cheapest_first(tubes: Sequence[Tube]) -> list[Tube]:
    """Tubes by their price a millilitre; those without a price or a size come last."""
    usual = usual_currency(tubes)
    return sorted(tubes, key=lambda tube: _price_by_volume(tube, usual))


def same_name(tube: Tube, others: Iterable[Tube]) -> list[Tube]:
    """Tubes of its medium and name that declare other pigments."""
    name, inside = plain_name(tube.name), sorted(tube.refs)
    return [
        other
        for other in others
        if name
        and other.medium == tube.medium
        and plain_name(other.name) == name
        and sorted(other.refs) != inside
    ]


def _price_by_volume(tube: Tube, usual: str) -> float:
    by_volume = tube.price / tube.size_ml if tube.price and tube.size_ml else None
    return compared(by_volume, tube.currency, usual)
