"""Which recipe a card shows."""

from __future__ import annotations

import pytest

from tubewise.advice.cards.recipe_card import recipe_card
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.target import target
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.tubes.tube import Tube


def test_only_recipes_that_were_found_have_a_card() -> None:
    tubes = [Tube(name="White", label="PW6"), Tube(name="Ultramarine", label="PB29")]
    shelf = Shelf(tubes)
    paints = [p for p in map(shelf.tube, tubes) if p is not None]
    answer = recipe(target("lab:45,10,-40", shelf), paints, 2, 6)
    card = recipe_card(answer, shelf, len(answer.recipes))
    assert card.recipe is answer.recipes[-1]
    assert len(card.colours) == len(card.recipe.parts)
    assert card.recipe not in card.others
    for which in (0, len(answer.recipes) + 1):
        with pytest.raises(UserError, match="were found"):
            recipe_card(answer, shelf, which)
