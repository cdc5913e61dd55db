"""The recipe card: one recipe, and the others found beside it."""

from __future__ import annotations

from dataclasses import dataclass

from tubewise.advice.recipes.quantity_results import Quantity
from tubewise.advice.recipes.results import Recipe, Recipes
from tubewise.colour.patch import Colour
from tubewise.errors import UserError
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.tubes.tube import Tube


@dataclass(frozen=True, slots=True)
class RecipeCard:
    """One recipe with the colour of each of its parts, and the other recipes found beside it.

    `tubes` are what its parts are squeezed from, None for a mere pigment and for water; `amounts`
    is it in millilitres and tubes, where that is asked.
    """

    target: Colour
    target_name: str
    recipe: Recipe
    colours: tuple[Colour, ...]
    words: str
    others: tuple[Recipe, ...]
    tubes: tuple[Tube | None, ...]
    amounts: Quantity | None = None


def recipe_card(answer: Recipes, shelf: Shelf, which: int = 1) -> RecipeCard:
    """The card of recipe number `which`, from 1; `shelf` holds the tubes it is mixed from.

    Raises UserError when there is no such recipe.
    """
    if not 1 <= which <= len(answer.recipes):
        raise UserError(f"recipes 1 to {len(answer.recipes)} were found", where=f"recipe {which}")
    chosen = answer.recipes[which - 1]
    paints = [shelf.term(part.tube) for part in chosen.parts]
    return RecipeCard(
        answer.target,
        answer.target_name,
        chosen,
        tuple(_alone(paint, shelf) for paint in paints),
        answer.words,
        tuple(r for r in answer.recipes if r is not chosen)[:3],
        tuple(paint.tube for paint in paints),
        answer.quantities[which - 1] if answer.quantities else None,
    )


def _alone(paint: Paint, shelf: Shelf) -> Colour:
    """A part by itself; water is the paper's white."""
    return Colour.of(shelf.setting_for(paint).lab_alone(paint)[0])
