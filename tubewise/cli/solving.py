"""Recipes asked for on the command line: the target, the tubes that may be mixed, the answer."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from tubewise.cli.source import shelf_of, tubes_of

if TYPE_CHECKING:
    from tubewise.advice.recipes.batch import Batch
    from tubewise.advice.recipes.results import Recipes
    from tubewise.advice.recipes.wishes import Wishes
    from tubewise.paints.shelf import Shelf


def solved(
    target: str,
    from_: Path,
    max_paints: int,
    max_parts: int,
    medium: str,
    catalogue: Path | None,
    wishes: Wishes | None = None,
    shop: Path | None = None,
) -> tuple[Recipes, Shelf]:
    """The recipes for `target` from the tubes of a file, and the shelf they stand on.

    Raises UserError for a target nobody knows, and where the file's tubes do not mix.
    """
    from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
    from tubewise.advice.recipes.target import is_spectrum_file
    from tubewise.advice.recipes.target import target as aim_at
    from tubewise.advice.recipes.wishes import PLAIN

    tubes = tubes_of(from_)
    on_sale = tubes_of(shop) if shop is not None else []
    shelf = shelf_of((), catalogue, (*on_sale, *tubes))
    if not (
        target.startswith(("lab:", "#", "munsell:"))
        or is_spectrum_file(target)
        or target in shelf.tubes
    ):
        shelf = shelf_of((target,), catalogue, (*on_sale, *tubes))
    aim = aim_at(target, shelf)
    at_hand = AtHand(tubes=tubes, shelf=shelf, medium=medium, shop=on_sale)
    return recipes_from(aim, at_hand, max_paints, max_parts, wishes or PLAIN), shelf


def solved_batch(
    targets: Path,
    from_: Path,
    max_paints: int,
    max_parts: int,
    medium: str,
    catalogue: Path | None,
    wishes: Wishes,
    progress: Callable[[int, int], None],
) -> Batch:
    """The best recipe for each target of a file, from the tubes of another."""
    from tubewise.advice.recipes.batch import read_targets
    from tubewise.advice.recipes.from_tubes import AtHand, batch_from

    tubes = tubes_of(from_)
    shelf = shelf_of((), catalogue, tubes)
    aims = read_targets(targets, shelf)
    at_hand = AtHand(tubes=tubes, shelf=shelf, medium=medium)
    return batch_from(aims, at_hand, max_paints, max_parts, wishes, progress)
