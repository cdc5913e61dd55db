"""Recipes asked for on a page or over JSON, worked out once."""

from __future__ import annotations

from dataclasses import replace

from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
from tubewise.advice.recipes.quantity import in_quantities, wanted
from tubewise.advice.recipes.results import Recipes
from tubewise.search.compiled import ready
from tubewise.web.holdings import Holdings
from tubewise.web.questions import RecipeQuestion
from tubewise.web.sources import source_of
from tubewise.web.targets import target_of
from tubewise.web.works import Progress


def recipes_for(holdings: Holdings, question: RecipeQuestion) -> Recipes:
    """The recipes that are asked for.

    Raises UserError for a target, a box or an amount nobody knows.
    """
    source = source_of(holdings, question.box)
    target_of(holdings, question.target)  # what nobody knows is said at once
    want = wanted(question.make, question.seats)
    found: Recipes = holdings.worked_out(
        work_recipes_out, replace(question.searched, box=source.key)
    )
    return in_quantities(found, want, holdings.shelf.tubes)


def work_recipes_out(holdings: Holdings, _: Progress, question: RecipeQuestion) -> Recipes:
    """The recipes themselves, which take their time. Raises UserError."""
    source = source_of(holdings, question.box)
    target = target_of(holdings, question.target)
    at_hand = AtHand(
        tubes=source.tubes,
        shelf=holdings.shelf,
        medium=question.medium,
        shop=() if source.is_stock else holdings.tubes,
    )

    ready()
    return recipes_from(target, at_hand, question.max_paints, question.max_parts, question.wishes)
