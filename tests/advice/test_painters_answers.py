"""What a painter expects of a small shop in each medium. Common practice, no source.

Questions as a teacher asked them, each with the answer that would be given at the counter. What is
tested of one part of the advice alone stands beside it: classroom/test_trade.py,
alike/test_standin_in_oil.py, test_purpose.py, test_layers.py.
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.advice.shops import ACRYLIC, GOUACHE, OIL, WATERCOLOUR, named
from tests.invented import tube
from tubewise.advice.alike.compare import compare
from tubewise.advice.alike.standin import standin
from tubewise.advice.classroom.check import check
from tubewise.advice.classroom.slot_verdict import SlotVerdict
from tubewise.advice.classroom.verdicts import Verdict
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.recipes.from_tubes import AtHand, recipes_from
from tubewise.advice.recipes.results import Recipe, Recipes
from tubewise.advice.recipes.target import target
from tubewise.advice.recipes.wishes import Wishes
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.paints.wash import WATER_NAME
from tubewise.pigments.purpose import SALE
from tubewise.tubes.supply import Slot, SupplyList, read_accept
from tubewise.tubes.tube import Box, Tube

Shop = tuple[Tube, ...]
SHOPS = {"acrylic": ACRYLIC, "oil": OIL, "watercolour": WATERCOLOUR, "gouache": GOUACHE}
ROSE, SKY, SAND, LEAF = "lab:76,22,10", "lab:66,-8,-30", "lab:58,6,22", "lab:50,-22,28"
SKIN_IN_SHADE, RED, VIOLET = "lab:58,14,16", "lab:42,52,28", "lab:32,22,-30"


def ask(shop: Shop, aim: str, wishes: Wishes | None = None) -> Recipes:
    """Recipes for a colour or a tube from everything in a shop."""
    shelf = Shelf(shop)
    at_hand = AtHand(tubes=shop, shelf=shelf)
    return recipes_from(target(aim, shelf), at_hand, wishes=wishes or Wishes())


def names(recipe: Recipe) -> set[str]:
    """The tubes of a recipe by their short names, water among them."""
    return {" ".join(part.title.split()[2:]) or part.title for part in recipe.parts}


def paints(recipe: Recipe) -> int:
    """How many paints a recipe holds beside water."""
    return len(names(recipe) - {WATER_NAME})


def judged(slot: Slot, *tubes: Tube, shop: Shop = (), sale: bool = False) -> SlotVerdict:
    """The verdict on one slot for one seat."""
    workshop = Workshop(SupplyList("Any", (slot,)), (Box("1", tubes),), shop)
    return check(replace(workshop, purpose=SALE) if sale else workshop).seats[0].slots[0]


def slot(accept: str, medium: str) -> Slot:
    """A slot of a list."""
    return Slot("Any", read_accept(accept), medium)


# ---------------------------------------------------------------- in every medium


@pytest.mark.slow
@pytest.mark.parametrize("medium", SHOPS)
@pytest.mark.parametrize("aim", [ROSE, SKY, SAND, LEAF, SKIN_IN_SHADE, RED, VIOLET])
def test_the_first_recipe_has_few_paints_in_parts_that_can_be_counted(
    medium: str, aim: str
) -> None:
    """A fourth paint only where no three come within CIEDE2000 2."""
    answer = ask(SHOPS[medium], aim)
    first = answer.recipes[0]
    counted = [p.parts for p in first.parts if p.tube != WATER_NAME]
    if len(counted) > 3:
        assert all(recipe.delta_e00 > 2.0 for recipe in answer.recipes if paints(recipe) <= 3)
        return
    assert sum(counted) <= 9 or "a touch of" in first.mixture or first.kind == "premixed"
    assert sum(counted) <= 16


@pytest.mark.slow
@pytest.mark.parametrize("medium", SHOPS)
def test_sand_comes_from_an_earth(medium: str) -> None:
    first = ask(SHOPS[medium], SAND).recipes[0]
    assert names(first) & {"Yellow Ochre", "Raw Umber", "Burnt Sienna", "Burnt Umber"}


@pytest.mark.slow
@pytest.mark.parametrize("medium", SHOPS)
def test_a_sky_is_a_blue_paled_with_what_the_medium_pales_with(medium: str) -> None:
    first = ask(SHOPS[medium], SKY).recipes[0]
    pale = {WATER_NAME} if medium == "watercolour" else {t for t in names(first) if "White" in t}
    blues = {"Ultramarine", "Cobalt Blue", "Phthalo Blue", "Cerulean"}
    assert pale and names(first) & blues and pale <= names(first)


@pytest.mark.parametrize("medium", SHOPS)
@pytest.mark.parametrize("wish", ["Ultramarine", "PB29"])
def test_what_is_left_out_is_out_by_name_or_pigment(medium: str, wish: str) -> None:
    answer = ask(SHOPS[medium], "#30409a", Wishes(must_not=(wish,)))
    assert all("Ultramarine" not in names(recipe) for recipe in answer.recipes)


@pytest.mark.parametrize("medium", SHOPS)
def test_what_means_nothing_is_an_error(medium: str) -> None:
    with pytest.raises(UserError):
        ask(SHOPS[medium], "#30409a", Wishes(must_not=("nonsense",)))


# ---------------------------------------------------------------- acrylic


@pytest.mark.slow
def test_acrylic_cadmium_left_out_leaves_an_organic_red() -> None:
    answer = ask(ACRYLIC, "lab:42,60,38", Wishes(must_not=("cadmium",)))
    assert "Naphthol Red" in names(answer.recipes[0])
    assert all("Cadmium" not in name for recipe in answer.recipes for name in names(recipe))


@pytest.mark.slow
def test_acrylic_a_plain_violet_is_not_violet_and_yellow() -> None:
    """One tube fewer is no reason to mix yellow into a violet."""
    first = ask(ACRYLIC, VIOLET).recipes[0]
    assert not any("Yellow" in name for name in names(first))


@pytest.mark.slow
def test_acrylic_nothing_makes_an_ultramarine_and_no_four_paints_are_named() -> None:
    seat = tuple(t for t in ACRYLIC if t.name != "Ultramarine")
    answer = standin(named(ACRYLIC, "Ultramarine"), seat, Shelf(ACRYLIC))
    assert all(one.recipe is None or len(one.recipe.parts) <= 3 for one in answer.standins)


def test_acrylic_for_oil_is_no_whatever_the_colour() -> None:
    blue = named(ACRYLIC, "Ultramarine")
    answer = compare(blue, named(OIL, "Ultramarine"), Shelf((*OIL, *ACRYLIC)))
    assert answer.step == "no" and answer.decided_by == "binder"
    assert answer.layers[0].startswith("oil lies over acrylic, never under it")


# ---------------------------------------------------------------- oil


@pytest.mark.slow
def test_oil_the_first_red_neither_fades_nor_is_toxic() -> None:
    """Not ten parts of a rubine lake and two of vermilion."""
    first = ask(OIL, RED).recipes[0]
    assert not names(first) & {"Rubine", "Alizarin Crimson", "Vermilion"} and not first.warning


@pytest.mark.slow
def test_oil_for_sale_nothing_that_fades_is_mixed() -> None:
    answer = ask(OIL, RED, Wishes(purpose=SALE))
    assert all(recipe.lightfastness in ("I", "II") for recipe in answer.recipes)


@pytest.mark.slow
def test_oil_a_grey_is_mixed_without_lead() -> None:
    answer = ask(OIL, "lab:58,0,2")
    assert "Lead White" not in names(answer.recipes[0])


@pytest.mark.slow
def test_oil_a_seat_mixes_its_deep_yellow_from_what_is_not_toxic_where_that_goes() -> None:
    verdict = judged(slot("PY110", "oil"), *OIL)
    assert verdict.verdict == Verdict.MIX and verdict.recipe is not None
    assert "Vermilion" not in verdict.recipe.words


def test_oil_a_titanium_zinc_white_is_right() -> None:
    white = named(OIL, "Titanium White")
    assert judged(slot("PW6", "oil"), white).verdict == Verdict.RIGHT


def test_oil_alizarin_is_refused_for_sale_and_its_stand_in_lasts() -> None:
    crimson, rose = named(OIL, "Alizarin Crimson"), named(OIL, "Anthraquinone Red")
    verdict = judged(slot("PR177 | PR83", "oil"), crimson, rose, sale=True)
    assert verdict.verdict == Verdict.RIGHT and verdict.tube == rose.id


# ---------------------------------------------------------------- watercolour


@pytest.mark.slow
def test_watercolour_no_white_is_mixed_and_a_pale_colour_is_thinned() -> None:
    first = ask(WATERCOLOUR, "lab:84,8,-10").recipes[0]
    assert "Chinese White" not in names(first) and " water" in first.mixture


@pytest.mark.slow
def test_watercolour_an_opera_rose_is_not_fifteen_parts_of_a_magenta() -> None:
    opera = tube("Opera Rose", "BV10", medium="watercolour", line="Reed", size_ml=15.0)
    shop = (*WATERCOLOUR, opera)
    answer = standin(opera, shop, Shelf(shop))
    assert not any(one.does for one in answer.standins) and "it fluoresces" in answer.words
    assert ask(shop, opera.id).words.startswith("it fluoresces")


def test_watercolour_what_granulates_is_not_replaced_by_what_stains() -> None:
    wanted = replace(slot("PB28", "watercolour"), extra={"handling": "granulating, non-staining"})
    phthalo, cobalt = (named(WATERCOLOUR, name) for name in ("Phthalo Blue", "Cobalt Blue"))
    assert judged(wanted, phthalo).verdict == Verdict.MISSING
    assert judged(wanted, phthalo, cobalt).verdict == Verdict.RIGHT


def test_watercolour_a_transparent_yellow_is_not_met_by_an_opaque_one() -> None:
    wanted = replace(slot("PY150", "watercolour"), extra={"handling": "transparent"})
    cadmium = tube("Cadmium Yellow", "PY35", medium="watercolour", line="Reed", size_ml=15.0)
    assert judged(wanted, cadmium).verdict == Verdict.MISSING


@pytest.mark.slow
def test_watercolour_takes_gouache_and_acrylic_stays_out() -> None:
    mixed = (*WATERCOLOUR, named(GOUACHE, "Cadmium Red"))
    assert ask(mixed, RED).left_out == ()
    with pytest.raises(UserError, match="do not mix"):
        ask((*WATERCOLOUR, named(ACRYLIC, "Cadmium Red")), RED)


# ---------------------------------------------------------------- gouache


@pytest.mark.slow
def test_gouache_is_paled_with_its_white() -> None:
    first = ask(GOUACHE, ROSE).recipes[0]
    assert "Permanent White" in names(first) and WATER_NAME not in names(first)


def test_gouache_is_not_laid_thin() -> None:
    shelf = Shelf(GOUACHE)
    blue, phthalo = (named(GOUACHE, name) for name in ("Ultramarine", "Phthalo Blue"))
    assert compare(blue, phthalo, shelf).undertone is None


def test_gouache_has_no_deep_gloss_in_its_darks() -> None:
    """The same black is lighter in a matt skin, alone and in what is mixed with it."""
    shelf = Shelf((*GOUACHE, *ACRYLIC))
    matt, gloss = (shelf.setting(m).lab_alone(shelf.pigment("PBk7"))[0] for m in ("gouache", "oil"))
    assert gloss[0] + 3.0 < matt[0] < 30.0
    black = named(GOUACHE, "Lamp Black")
    assert compare(black, named(GOUACHE, "Ultramarine"), shelf).masstone.a.lab[0] > 23.0


@pytest.mark.slow
def test_gouache_recipes_are_sought_in_its_matt_skin() -> None:
    first = ask(GOUACHE, "lab:26,0,0").recipes[0]
    assert names(first) == {"Lamp Black"} and first.delta_e00 < 2.0
    deep = ask(GOUACHE, "lab:12,0,0").recipes[0]
    assert deep.colour.lab[0] > 23.0 and deep.delta_e00 > 5.0


def test_gouache_swatches_are_read_and_shown_in_it() -> None:
    """What was read of a daub is what is shown of it, however it was read."""
    lab = (26.5, 0.4, -0.3)
    for geometry in ("", "included", "excluded"):
        daub = replace(named(GOUACHE, "Lamp Black"), swatch_lab=lab, swatch_geometry=geometry)
        shelf = Shelf((daub,))
        paint = shelf.tube(daub)
        assert paint is not None
        assert shelf.setting_for(paint).lab_alone(paint)[0][0] == pytest.approx(lab[0], abs=2.0)
        assert target(daub.id, shelf).lab == pytest.approx(lab, abs=1e-6)
