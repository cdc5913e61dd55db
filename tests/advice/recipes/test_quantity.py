"""How much of each tube a mixture takes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tubewise.advice.recipes.quantity import Wanted, quantity, wanted
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.results import Recipe
from tubewise.advice.recipes.target import target
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.tubes.tube import Tube

WHITE = Tube(
    id="w", maker="Fenwick", name="White", label="PW6", medium="acrylic", size_ml=60.0, price=6.0,
    currency="EUR",
)  # fmt: skip
BLUE = replace(WHITE, id="b", name="Blue", label="PB29", size_ml=37.0, price=7.4)


@pytest.fixture(scope="module")
def tint() -> Recipe:
    """Three parts of white and one of blue."""
    shelf = Shelf((WHITE, BLUE))
    paints = [paint for paint in map(shelf.tube, (WHITE, BLUE)) if paint is not None]
    found = recipe(target("lab:60,0,-40", shelf), paints, 2, 4).nearest
    white, blue = sorted(found.parts, key=lambda part: part.tube, reverse=True)
    return replace(
        found,
        parts=(replace(white, parts=3.0), replace(blue, parts=1.0)),
        price_per_ml=0.75 * 0.1 + 0.25 * 0.2,
        currency="EUR",
    )


def test_amounts_follow_the_parts_and_tubes_are_whole(tint: Recipe) -> None:
    made = quantity(tint, Wanted(ml=30.0, seats=12), {"w": WHITE, "b": BLUE})
    assert made.ml == 360.0
    assert [(part.ml, part.tubes) for part in made.parts] == [(270.0, 5), (90.0, 3)]
    assert made.price == pytest.approx(5 * 6.0 + 3 * 7.4)
    assert made.used == pytest.approx(45.0)
    assert "270 ml Fenwick White (5 tubes of 60 ml)" in made.words
    assert made.words.endswith("paint for 45.00 EUR, the tubes 52.20 EUR")


def test_the_last_tube_is_not_bought_for_a_millilitre(tint: Recipe) -> None:
    made = quantity(tint, Wanted(ml=80.5), {"w": WHITE, "b": BLUE})
    assert [part.tubes for part in made.parts] == [1, 1]


def test_without_prices_or_sizes_no_cost_is_made_up(tint: Recipe) -> None:
    bare = replace(BLUE, size_ml=None, price=None)
    unpriced = replace(tint, price_per_ml=None)
    made = quantity(unpriced, Wanted(ml=30.0), {"w": WHITE, "b": bare})
    assert made.price is None and made.used is None and made.currency == ""
    assert "EUR" not in made.words


@pytest.mark.parametrize(
    ("make", "seats", "want"),
    [
        ("", 0, None),
        ("30ml", 0, Wanted(ml=30.0)),
        ("0,2 l", 0, Wanted(ml=200.0)),
        ("", 12, Wanted(ml=10.0, seats=12)),
        (" 30 ml ", 4, Wanted(ml=30.0, seats=4)),
    ],
)
def test_amounts_as_people_write_them(make: str, seats: int, want: Wanted | None) -> None:
    assert wanted(make, seats) == want


@pytest.mark.parametrize(("make", "seats"), [("some", 0), ("-3 ml", 0), ("30ml", -1), ("", 5000)])
def test_no_amount_is_refused(make: str, seats: int) -> None:
    with pytest.raises(UserError):
        wanted(make, seats)
