"""Wishes for a recipe, each with an effect one can see."""

from __future__ import annotations

import pytest

from tests.invented import tube
from tubewise.advice.recipes.recipe import recipe
from tubewise.advice.recipes.results import Recipes
from tubewise.advice.recipes.target import target
from tubewise.advice.recipes.wishes import Wishes
from tubewise.colour.difference import delta_e_2000
from tubewise.errors import UserError
from tubewise.paints.appearance import Film
from tubewise.paints.mixing import mix
from tubewise.paints.shelf import Shelf
from tubewise.pigments.purpose import SALE

WHITE = tube("Titanium White", "PW6", price=6.0)
BLUE = tube("Ultramarine", "PB29", price=8.0)
ROSE = tube("Permanent Rose", "PV19 (rose)", price=30.0)
ALIZARIN = tube("Alizarin Crimson", "PR83", price=7.0)
CADMIUM = tube("Cadmium Red", "PR108", price=16.0)
PYRROLE = tube("Pyrrole Red", "PR254", price=12.0)
LILAC = tube("Lilac", "PV23, PW6", price=7.0, swatch_lab=(55.0, 25.0, -35.0))
YELLOW = tube("Arylide Yellow", "PY74", price=8.0)
TUBES = (WHITE, BLUE, ROSE, ALIZARIN, CADMIUM, PYRROLE, LILAC, YELLOW)
SHELF = Shelf(TUBES)
PAINTS = [p for p in map(SHELF.tube, TUBES) if p is not None]


def solve(aim: str, wishes: Wishes, max_paints: int = 3) -> Recipes:
    return recipe(target(aim, SHELF), PAINTS, max_paints, 12, wishes=wishes)


def used(answer: Recipes) -> set[str]:
    return {p.tube for p in answer.recipes[0].parts}


@pytest.mark.slow
def test_lasting_leaves_the_fugitive_crimson_out() -> None:
    aim = "lab:45,45,10"
    assert all(
        ALIZARIN.id != p.tube for r in solve(aim, Wishes(lasting=True)).recipes for p in r.parts
    )


def test_uncautioned_leaves_cadmium_out() -> None:
    plain, careful = (solve("lab:43,54,30", Wishes(uncautioned=u), 1) for u in (False, True))
    assert used(plain) == {CADMIUM.id}
    assert used(careful) != {CADMIUM.id}


def test_single_leaves_mixed_tubes_out() -> None:
    assert LILAC.id in used(solve("lab:55,25,-35", Wishes(), 1))
    assert LILAC.id not in used(solve("lab:55,25,-35", Wishes(single=True), 1))


@pytest.mark.slow
def test_must_and_must_not() -> None:
    aim = "lab:62,20,-20"
    assert ROSE.id in used(solve(aim, Wishes(must=(ROSE.id,))))
    assert BLUE.id not in used(solve(aim, Wishes(must_not=(BLUE.id,))))


@pytest.mark.slow
@pytest.mark.parametrize("wish", ["Cadmium Red", "PR108", "cadmium", "Kadmium", CADMIUM.id])
def test_cadmium_is_left_out_by_name_pigment_class_and_id(wish: str) -> None:
    answer = solve("lab:43,54,30", Wishes(must_not=(wish,)), 1)
    assert all(part.tube != CADMIUM.id for one in answer.recipes for part in one.parts)
    assert CADMIUM.id in used(solve("lab:43,54,30", Wishes(), 1))


@pytest.mark.parametrize("wish", ["nonsense", "PR83x", "PR106"])
def test_an_exclusion_that_means_nothing_is_an_error(wish: str) -> None:
    with pytest.raises(UserError):
        solve("lab:43,54,30", Wishes(must_not=(wish,)))


@pytest.mark.slow
def test_what_is_left_out_is_not_offered_by_the_shop_either() -> None:
    box = [p for p in PAINTS if p.tube not in (CADMIUM, PYRROLE, ALIZARIN, ROSE)]
    aim = target("lab:43,54,30", SHELF)
    plain = recipe(aim, box, 3, 12, shop=PAINTS)
    careful = recipe(aim, box, 3, 12, wishes=Wishes(must_not=("cadmium",)), shop=PAINTS)
    assert plain.helper is not None and plain.helper.tube == CADMIUM.id
    assert careful.helper is not None and careful.helper.tube != CADMIUM.id


def test_for_sale_nothing_that_fades_is_mixed_and_for_practice_it_is_said_first() -> None:
    aim = ALIZARIN.id
    crimson = target(aim, SHELF)
    plain = recipe(crimson, PAINTS, 3, 12).recipes[0]
    assert {p.tube for p in plain.parts} == {ALIZARIN.id}
    assert "PR83 (alizarin crimson): Fades in light" in plain.warning
    sold = recipe(crimson, PAINTS, 3, 12, wishes=Wishes(purpose=SALE))
    assert all(part.tube != ALIZARIN.id for one in sold.recipes for part in one.parts)
    assert all(one.lightfastness in ("I", "II") for one in sold.recipes)


def test_a_part_names_grade_and_medium() -> None:
    part = solve("lab:43,54,30", Wishes(), 1).recipes[0].parts[0]
    assert part.paint == "artist acrylic"
    assert part.words == "Oakfen Fenland Cadmium Red (artist acrylic, PR108 (form not said))"


def test_fewer_paints_first() -> None:
    aim = "lab:58,23,-34"
    many, few = (solve(aim, Wishes(fewer=f), 4).recipes[0] for f in (False, True))
    assert len(few.parts) <= len(many.parts)
    assert len(few.parts) == 1


@pytest.mark.slow
def test_cheaper_spares_the_dear_tube() -> None:
    aim = "lab:48,42,-2"
    dear, cheap = (solve(aim, Wishes(cheaper=c)).recipes[0] for c in (False, True))
    assert cheap.price_per_ml is not None and dear.price_per_ml is not None
    assert cheap.price_per_ml <= dear.price_per_ml


def test_transparent_pigments_only() -> None:
    answer = solve("lab:45,40,0", Wishes(result="transparent"))
    assert not {WHITE.id, CADMIUM.id} & used(answer)


def test_opaque_pigments_only() -> None:
    answer = solve("lab:60,45,30", Wishes(result="opaque"))
    assert ROSE.id not in used(answer)


@pytest.mark.slow
def test_each_light_is_matched_best_by_its_own_recipe() -> None:
    aim = target("PR101", SHELF)
    day, lamp, every = (
        recipe(aim, PAINTS, 4, 16, wishes=Wishes(light=light)).nearest.by_light
        for light in ("D65", "A", "all")
    )
    assert lamp["A"] < day["A"] - 1.0
    assert day["D65"] < lamp["D65"] - 0.5
    assert max(every.values()) < min(max(day.values()), max(lamp.values())) - 0.3


def test_the_spectrum_may_be_what_counts() -> None:
    made = solve(BLUE.id, Wishes(light="spectrum"), 1)
    assert used(made) == {BLUE.id}


@pytest.mark.slow
@pytest.mark.parametrize("ground", ["white", "#e0d0b0"])
def test_a_glaze_is_nearer_than_the_opaque_recipe_laid_thin(ground: str) -> None:
    aim = target("lab:78,25,5", SHELF)

    def laid_thin(film: Film) -> float:
        parts = recipe(aim, PAINTS, 2, 12, wishes=Wishes(film=film, ground=ground)).nearest.parts
        paints = [next(p for p in PAINTS if p.name == part.title) for part in parts]
        made = mix(paints, [part.parts for part in parts], "thin", ground)
        return float(delta_e_2000(aim.lab, made.colour.lab))

    assert laid_thin("thin") < laid_thin("opaque") - 1.0


def test_the_smallest_share_is_kept() -> None:
    answer = recipe(
        target("lab:80,5,-15", SHELF), PAINTS, 3, None, wishes=Wishes(smallest_share=0.1)
    )
    total = sum(p.parts for p in answer.recipes[0].parts)
    assert min(p.parts for p in answer.recipes[0].parts) >= 0.0999 * total


@pytest.mark.parametrize(
    ("wishes", "said"),
    [
        (Wishes(light="candle"), "the lights are"),
        (Wishes(result="shiny"), "transparent or opaque"),
        (Wishes(must=("nowhere",)), "no tube, pigment, name or class of caution here"),
        (Wishes(must=(CADMIUM.id,), uncautioned=True), "is required, but"),
        (Wishes(must=(WHITE.id, BLUE.id, ROSE.id, CADMIUM.id)), "more tubes are required"),
    ],
)
def test_wishes_that_cannot_be_met_are_told(wishes: Wishes, said: str) -> None:
    with pytest.raises(UserError, match=said):
        solve("lab:50,0,0", wishes)


def test_a_wish_that_leaves_nothing_is_named() -> None:
    only = [p for p in PAINTS if p.tube is not None and p.tube.id == CADMIUM.id]
    with pytest.raises(UserError, match="no cautioned pigments leaves no tube"):
        recipe(target("lab:50,0,0", SHELF), only, 1, 1, wishes=Wishes(uncautioned=True))


def test_the_shop_is_asked_for_the_tube_that_helps_most() -> None:
    own = [p for p in PAINTS if p.tube is not None and p.tube.id in (WHITE.id, BLUE.id)]
    answer = recipe(target("lab:85,5,75", SHELF), own, 2, 12, shop=PAINTS)
    assert answer.helper is not None and answer.helper.tube == YELLOW.id
    assert "the miss falls to" in answer.words
