"""Recipes asked for on the command line: the target, the tubes that may be mixed, the answer."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from tubewise.cli.source import shelf_of, tubes_of
from tubewise.errors import UserError

if TYPE_CHECKING:
    from tubewise.advice.recipes.batch import Batch
    from tubewise.advice.recipes.recipe import Recipes
    from tubewise.advice.recipes.wishes import Wishes
    from tubewise.paints.paint import Paint
    from tubewise.paints.shelf import Shelf
    from tubewise.tubes.tube import Tube


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
    from tubewise.advice.recipes.recipe import PLAIN, recipe
    from tubewise.advice.recipes.target import is_spectrum_file
    from tubewise.advice.recipes.target import target as aim_at

    tubes = tubes_of(from_)
    shelf = shelf_of((), catalogue, tubes)
    if not (
        target.startswith(("lab:", "#", "munsell:"))
        or is_spectrum_file(target)
        or target in shelf.tubes
    ):
        shelf = shelf_of((target,), catalogue, tubes)
    aim = aim_at(target, shelf)
    wanted = shelf.tubes.get(target)
    medium = medium or (wanted.medium if wanted is not None else "") or only_medium(tubes, from_)
    if wanted is not None:
        tubes = [t for t in tubes if t.id != wanted.id and t.paint != wanted.paint]
    paints = paints_of(tubes, shelf, medium)
    on_sale: list[Paint] = []
    if shop is not None:
        offered = tubes_of(shop)
        on_sale = paints_of(offered, shelf_of((), None, offered), medium)
    # A recipe of two parts holds two paints at most.
    most = min(max_paints, max_parts)
    return recipe(aim, paints, most, max_parts, medium, wishes or PLAIN, on_sale), shelf


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
    from tubewise.advice.recipes.batch import batch, read_targets

    tubes = tubes_of(from_)
    shelf = shelf_of((), catalogue, tubes)
    medium = medium or only_medium(tubes, from_)
    paints = paints_of(tubes, shelf, medium)
    aims = read_targets(targets, shelf)
    most = min(max_paints, max_parts)
    return batch(aims, paints, most, max_parts, medium, wishes, progress)


def only_medium(tubes: Sequence[Tube], file: Path) -> str:
    """The medium of all the tubes that name one. Raises UserError where they name several."""
    media = sorted({t.medium for t in tubes if t.medium})
    if len(media) > 1:
        raise UserError(
            f"this file holds {', '.join(media)}, which do not mix; say one with --medium",
            where=str(file),
        )
    return media[0] if media else ""


def paints_of(tubes: Sequence[Tube], shelf: Shelf, medium: str) -> list[Paint]:
    """The paints of tubes that are of a medium, or do not say, and declare their pigments."""
    usable = [t for t in tubes if not medium or t.medium in ("", medium)]
    return [p for p in map(shelf.tube, usable) if p is not None]
