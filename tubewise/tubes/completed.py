"""Sparse tubes of a box filled in from the same products of a catalogue."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import replace

from tubewise.tubes.columns import COLUMNS
from tubewise.tubes.slug import slug
from tubewise.tubes.tube import Tube


class Products:
    """A catalogue indexed for `complete`; build it once for many tubes."""

    __slots__ = ("_by_name",)

    def __init__(self, catalogue: Iterable[Tube]) -> None:
        self._by_name: dict[tuple[str, str], list[Tube]] = defaultdict(list)
        for tube in catalogue:
            self._by_name[slug(tube.maker), slug(tube.name)].append(tube)

    def same(self, tube: Tube) -> list[Tube]:
        """Products that the row can only mean: same maker and name, and nothing that differs."""
        if not tube.maker or not tube.name:
            return []
        found = self._by_name.get((slug(tube.maker), slug(tube.name)), [])
        return [other for other in found if _agree(tube, other)]


def _agree(tube: Tube, other: Tube) -> bool:
    for column in ("line", "medium", "grade"):
        mine, theirs = slug(getattr(tube, column)), slug(getattr(other, column))
        if mine and theirs and mine != theirs:
            return False
    return True


def complete(tube: Tube, catalogue: Iterable[Tube] | Products) -> Tube:
    """Fill what a box row leaves blank from the same product in the catalogue.

    The product has the same maker and name, and no other line, medium or grade. A field is filled
    where all such products agree on it; price, currency and stock only from the same size, or the
    only one. What the row says itself is never changed. Where one product is meant for certain,
    the tube takes its id.
    """
    products = catalogue if isinstance(catalogue, Products) else Products(catalogue)
    same = products.same(tube)
    if not same:
        return tube
    sized = [other for other in same if tube.size_ml in (None, other.size_ml)]

    def agreed(column: str, among: Sequence[Tube]) -> object:
        values = list(dict.fromkeys(getattr(other, column) for other in among))
        if column == "label" and len({other.refs for other in among}) == 1:
            # Labels of two sizes differ in batch and volume, yet declare the same.
            return values[0]
        return values[0] if len(values) == 1 else None

    filled: dict[str, object] = {}
    for column in COLUMNS:
        if getattr(tube, column) not in (None, ""):
            continue
        exact = column in ("size_ml", "price", "currency", "stock")
        value = agreed(column, sized if exact else same)
        if value not in (None, ""):
            filled[column] = value
    if tube.price is not None:
        filled.pop("currency", None)
    if tube.swatch_lab is not None or tube.swatch_hex:
        # How the catalogue read its own swatch says nothing of this one.
        filled.pop("swatch_geometry", None)
    elif len({other.swatch_geometry for other in same}) > 1:
        # A colour of which nobody knows how it was read is not taken over.
        filled.pop("swatch_lab", None)
        filled.pop("swatch_hex", None)
    # The shop's shelf is not this box's.
    filled.pop("stock", None)
    if len(sized) == 1:
        filled["id"] = sized[0].id
    return replace(tube, **filled)  # type: ignore[arg-type]
