"""Recipes asked for on a page or over JSON, worked out once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from tubewise.advice.recipes.recipe import Recipes, recipe
from tubewise.paints.paint import Paint
from tubewise.search.compiled import ready
from tubewise.tubes.tube import Tube
from tubewise.web.holdings import Holdings
from tubewise.web.questions import RecipeQuestion
from tubewise.web.sources import source_of
from tubewise.web.targets import target_of


def recipes_for(held: Holdings, question: RecipeQuestion) -> Recipes:
    """The recipes that are asked for. Raises UserError for a target or a box nobody knows."""
    source = source_of(held, question.box)
    target = target_of(held, question.target)

    def work() -> Recipes:
        ready()
        medium, tubes = usable(source.tubes, held.tube(question.target))
        return recipe(
            target,
            _paints(held, tubes),
            question.max_paints,
            question.max_parts,
            medium,
            question.wishes,
            [] if source.is_stock else _on_sale(held, medium),
        )

    return held.remember_heavy(("recipe", replace(question, box=source.key)), work)


def usable(tubes: tuple[Tube, ...], wanted: Tube | None) -> tuple[str, list[Tube]]:
    """The medium mixed in, and the tubes of it; the wanted paint itself left out."""
    media = [t.medium for t in tubes if t.medium]
    medium = wanted.medium if wanted and wanted.medium in media else ""
    if not medium and media:
        medium = max(sorted(set(media)), key=media.count)
    kept = [t for t in tubes if t.medium in ("", medium)]
    if wanted is not None:
        kept = [t for t in kept if t.id != wanted.id and t.paint != wanted.paint]
    return medium, kept


def _paints(held: Holdings, tubes: Iterable[Tube]) -> list[Paint]:
    return [p for p in map(held.shelf.tube, tubes) if p is not None]


def _on_sale(held: Holdings, medium: str) -> list[Paint]:
    """What could be bought where a box falls short: of each paint in stock, one tube."""
    found: dict[tuple[str, ...], Tube] = {}
    for tube in held.tubes:
        if tube.stock != 0 and tube.medium == medium and tube.refs and tube.grade != "student":
            found.setdefault(tuple(sorted(tube.refs)), tube)
    return _paints(held, found.values())
