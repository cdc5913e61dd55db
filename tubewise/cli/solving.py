"""Recipes asked for on the command line: the target, the tubes that may be mixed, the answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from tubewise.cli.options import From, OnlyMedium, Seat, Shop
from tubewise.cli.source import shelf_of, tubes_from, tubes_of

if TYPE_CHECKING:
    from tubewise.advice.recipes.batch import Batch
    from tubewise.advice.recipes.results import Recipes
    from tubewise.advice.recipes.wishes import Wishes
    from tubewise.paints.shelf import Shelf


@dataclass(frozen=True, kw_only=True)
class MixQuestion:
    """What every question about a recipe says: whose tubes, how many, how many parts."""

    from_: From = None
    seat: Seat = ""
    max_paints: Annotated[int, typer.Option(help="At most so many tubes.", min=1, max=6)] = 4
    max_parts: Annotated[int, typer.Option(help="At most so many parts in all.", min=1)] = 16
    medium: OnlyMedium = ""
    catalogue: Shop = None


def solved(
    target: str, question: MixQuestion, wishes: Wishes | None = None, shop: Path | None = None
) -> tuple[Recipes, Shelf]:
    """The recipes for `target` from the tubes of a file, and the shelf they stand on.

    Raises UserError for a target nobody knows, and where the file's tubes do not mix.
    """
    from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
    from tubewise.advice.recipes.target import is_spectrum_file
    from tubewise.advice.recipes.target import target as aim_at
    from tubewise.advice.recipes.wishes import PLAIN

    tubes = tubes_from(question.from_, question.seat, question.catalogue)
    on_sale = tubes_of(shop) if shop is not None else []
    shelf = shelf_of((), question.catalogue, (*on_sale, *tubes))
    if not (
        target.startswith(("lab:", "#", "munsell:"))
        or is_spectrum_file(target)
        or target in shelf.tubes
    ):
        shelf = shelf_of((target,), question.catalogue, (*on_sale, *tubes))
    at_hand = AtHand(tubes=tubes, shelf=shelf, medium=question.medium, shop=on_sale)
    answer = recipes_from(
        aim_at(target, shelf), at_hand, question.max_paints, question.max_parts, wishes or PLAIN
    )
    return answer, shelf


def solved_batch(
    targets: Path, question: MixQuestion, wishes: Wishes, progress: Callable[[int, int], None]
) -> Batch:
    """The best recipe for each target of a file, from the tubes of another."""
    from tubewise.advice.recipes.batch import read_targets
    from tubewise.advice.recipes.from_tubes import AtHand, batch_from

    tubes = tubes_from(question.from_, question.seat, question.catalogue)
    shelf = shelf_of((), question.catalogue, tubes)
    at_hand = AtHand(tubes=tubes, shelf=shelf, medium=question.medium)
    return batch_from(
        read_targets(targets, shelf),
        at_hand,
        question.max_paints,
        question.max_parts,
        wishes,
        progress,
    )
