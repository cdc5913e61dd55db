"""A recipe asked for on the command line: the target, the tubes that may be mixed, the answer."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from tubewise.cli.source import shelf_of, tubes_of
from tubewise.errors import UserError

if TYPE_CHECKING:
    from tubewise.advice.paint import Paint
    from tubewise.advice.recipe import Recipes
    from tubewise.advice.shelf import Shelf
    from tubewise.advice.wishes import Wishes


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
    from tubewise.advice.recipe import PLAIN, recipe
    from tubewise.advice.shelf import Shelf
    from tubewise.advice.target import target as aim_at

    tubes = tubes_of(from_)
    shelf = shelf_of((), catalogue, tubes)
    if not (
        target.startswith(("lab:", "#", "munsell:"))
        or Path(target).is_file()
        or target in shelf.tubes
    ):
        shelf = shelf_of((target,), catalogue, tubes)
    aim = aim_at(target, shelf)
    wanted = shelf.tubes.get(target)
    if not medium:
        media = sorted({t.medium for t in tubes if t.medium})
        if wanted is not None and wanted.medium:
            medium = wanted.medium
        elif len(media) > 1:
            raise UserError(
                f"this file holds {', '.join(media)}, which do not mix; say one with --medium",
                where=str(from_),
            )
    usable = [t for t in tubes if not medium or t.medium in ("", medium)]
    if wanted is not None:
        usable = [t for t in usable if t.id != wanted.id and t.paint != wanted.paint]
    paints = [p for p in map(shelf.tube, usable) if p is not None]
    on_sale: list[Paint] = []
    if shop is not None:
        offered = [t for t in tubes_of(shop) if not medium or t.medium in ("", medium)]
        on_sale = [p for p in map(Shelf(offered).tube, offered) if p is not None]
    parts = max(max_parts, max_paints)
    return recipe(aim, paints, max_paints, parts, medium, wishes or PLAIN, on_sale), shelf
