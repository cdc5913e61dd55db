"""Everyday colours get recipes that somebody would make (common practice, no source)."""

from __future__ import annotations

import pytest

from tools.everyday import COLOURS
from tubewise.advice.recipes.batch import batch
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.target import target
from tubewise.paints.shelf import Shelf
from tubewise.search.compiled import ready

BOX = ("PW6", "PY3", "PY42", "PR108", "PR101/medium", "PV19/gamma", "PB29", "PB15:3", "PG7", "PBk9")


@pytest.mark.slow
@pytest.mark.parametrize("name", COLOURS)
def test_no_more_than_three_paints_where_two_do(name: str) -> None:
    ready()
    shelf = Shelf()
    paints = [shelf.pigment(ref) for ref in BOX]
    L, a, b = COLOURS[name]
    wanted = target(f"lab:{L},{a},{b}", shelf)
    two = recipe(wanted, paints, 2, 16).recipes[0]
    first = recipe(wanted, paints, 4, 16).recipes[0]
    if two.delta_e00 <= 2.0:
        assert len(first.parts) <= 3
    assert first.delta_e00 <= max(2.0, two.delta_e00)


@pytest.mark.slow
def test_a_batch_says_what_each_colour_is_told_first() -> None:
    ready()
    shelf = Shelf()
    paints = [shelf.pigment(ref) for ref in BOX]
    some = list(COLOURS.values())[::7]
    wanted = [target(f"lab:{L},{a},{b}", shelf) for L, a, b in some]
    for colour, line in zip(wanted, batch(wanted, paints).lines, strict=True):
        assert line.recipe.parts == recipe(colour, paints).recipes[0].parts
