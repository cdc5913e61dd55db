"""The recipe card: one recipe, and the others found beside it."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise.advice.recipes.results import Recipe, Recipes
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.appearance import lab_alone
from tubewise.paints.shelf import Shelf


@dataclass(frozen=True, slots=True)
class RecipeCard:
    """One recipe with the colour of each of its parts, and the other recipes found beside it."""

    target: Colour
    target_name: str
    recipe: Recipe
    colours: tuple[Colour, ...]
    words: str
    others: tuple[Recipe, ...]


def recipe_card(answer: Recipes, shelf: Shelf, which: int = 1) -> RecipeCard:
    """The card of recipe number `which`, from 1; `shelf` holds the tubes it is mixed from.

    Raises UserError when there is no such recipe.
    """
    if not 1 <= which <= len(answer.recipes):
        raise UserError(f"recipes 1 to {len(answer.recipes)} were found", where=f"recipe {which}")
    chosen = answer.recipes[which - 1]
    return RecipeCard(
        answer.target,
        answer.target_name,
        chosen,
        tuple(Colour.of(lab_alone(shelf.term(part.tube))[0]) for part in chosen.parts),
        answer.words,
        tuple(r for r in answer.recipes if r is not chosen)[:3],
    )
