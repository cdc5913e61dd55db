"""Recipes from a box: near the target, in whole parts, with what goes along."""

from __future__ import annotations

import numpy as np
import pytest

from tests.invented import tube
from tubewise.advice.plain import plain
from tubewise.advice.recipes.recipe import offer, recipe, special_metamerism
from tubewise.advice.recipes.target import target
from tubewise.advice.recipes.wishes import Wishes
from tubewise.colour.lab import lab_from_reflectance
from tubewise.errors import UserError
from tubewise.paints.appearance import appearance
from tubewise.paints.shelf import Shelf

TUBES = (
    tube("Titanium White", "PW6"),
    tube("Lemon Yellow", "PY3"),
    tube("Ultramarine", "PB29"),
    tube("Permanent Rose", "PV19 (rose)"),
    tube("Phthalo Green", "PG7"),
    tube("Cadmium Red", "PR108"),
)
SHELF = Shelf(TUBES)
PAINTS = [p for p in map(SHELF.tube, TUBES) if p is not None]


def test_a_reachable_green_is_mixed_in_whole_parts() -> None:
    answer = recipe(target("lab:70,-30,30", SHELF), PAINTS, max_paints=3, max_parts=30)
    best = answer.recipes[0]
    assert best.delta_e00 < 4.0
    assert all(p.parts == int(p.parts) for p in best.parts)
    assert sum(p.parts for p in best.parts) <= 30
    assert "within reach" in answer.words
    assert best.basis == "modelled"
    assert best.uncertainty.delta_e00_95 > 0.0
    assert answer.search.subsets > 0


def test_a_mixture_of_the_box_comes_back() -> None:
    from tubewise.paints.mixing import mix

    made = mix([PAINTS[0], PAINTS[2], PAINTS[3]], [4, 1, 1])
    L, a, b = made.colour.lab
    best = recipe(target(f"lab:{L},{a},{b}", SHELF), PAINTS, 3, 12).recipes[0]
    assert best.delta_e00 < 0.5


def test_two_tubes_of_one_pigment_are_never_mixed_with_each_other() -> None:
    other = tube("Opaque White", "PW6", maker="Brixby", price=1.0)
    shelf = Shelf((*TUBES, other))
    paints = [p for p in map(shelf.tube, (*TUBES, other)) if p is not None]
    for wanted in ("lab:90,5,5", "lab:70,-30,30", "lab:60,40,-20"):
        for one in recipe(target(wanted, shelf), paints, 4, 20).recipes:
            whites = [p for p in one.parts if "White" in p.title]
            assert len(whites) <= 1


def test_out_of_reach_says_which_way_it_misses() -> None:
    answer = recipe(target("lab:60,90,60", SHELF), PAINTS, 3, 12)
    assert "out of reach" in answer.words and "duller" in answer.words


def test_steps_start_light_and_end_with_the_strong_and_tell_the_moves() -> None:
    best = recipe(target("lab:70,-30,30", SHELF), PAINTS, 3, 12).recipes[0]
    assert best.steps[0].startswith("start with")
    assert any("add a little" in step for step in best.steps)


def test_cautions_and_permanence_of_what_is_in_it() -> None:
    only_red = [p for p in PAINTS if p.refs[0].startswith("PR108")]
    best = recipe(target("lab:52,60,45", SHELF), only_red, 1, 1).recipes[0]
    assert best.steps == ("straight from the tube",)
    assert any("cadmium" in c.text.lower() for c in best.cautions)
    assert set(best.metamerism) == {"D50", "A", "FL2", "FL11", "LED-B3"}


def test_a_colour_is_not_metameric_to_itself() -> None:
    R = appearance(PAINTS[2].K[0], PAINTS[2].S[0])
    assert max(special_metamerism(R, R).values()) == pytest.approx(0.0, abs=1e-6)


def test_nothing_to_mix_from_or_senseless_limits_are_told() -> None:
    aim = target("lab:50,0,0", SHELF)
    with pytest.raises(UserError, match="nothing can be mixed"):
        recipe(aim, [])
    with pytest.raises(UserError, match="at least one paint"):
        recipe(aim, PAINTS, 0)
    with pytest.raises(UserError, match="at least one paint"):
        recipe(aim, PAINTS, 3, 2)


def test_it_shows_itself_in_a_notebook() -> None:
    answer = recipe(target("lab:50,0,0", SHELF), PAINTS, 2, 8)
    assert answer.target.hex in answer._repr_html_()
    assert answer.recipes[0].colour.hex in answer.recipes[0]._repr_html_()
    np.testing.assert_allclose(answer.target.lab, (50, 0, 0))


def test_what_no_part_can_dose_is_mixed_in_two_steps() -> None:
    aim = target("lab:85,-14,-5", SHELF)
    answer = recipe(aim, PAINTS, 3, 16)
    best, told = answer.recipes[0], answer.recipes[1]
    assert told.kind == "premixed"
    assert told.delta_e00 < best.delta_e00 - 0.5
    assert "first mix 1 part" in told.words and "with 9 parts" in told.steps[0]
    assert "in two steps" in answer.words
    # What is said in tubes is the same mixture.
    chosen = [next(p for p in PAINTS if p.name == part.title) for part in told.parts]
    shares = np.array([part.parts for part in told.parts])
    shares = shares / shares.sum()
    K, S = (sum(c * getattr(p, k)[0] for c, p in zip(shares, chosen, strict=True)) for k in "KS")
    lab = lab_from_reflectance(appearance(K, S))
    np.testing.assert_allclose(lab, told.colour.lab, atol=0.05)
    assert len(told.parts) <= 3


def test_whole_parts_that_lose_nothing_need_no_second_step() -> None:
    answer = recipe(target("lab:62,20,-20", SHELF), PAINTS, 3, 40)
    assert all(r.kind != "premixed" for r in answer.recipes)


def test_a_target_without_a_spectrum_is_told() -> None:
    assert not recipe(target("lab:60,0,0", SHELF), PAINTS, 2, 8).spectral
    assert recipe(target("PB29", SHELF), PAINTS, 1, 1).spectral


def test_the_miss_is_told_under_the_light_asked_for() -> None:
    aim = target("lab:60,25,-20", SHELF)
    for light in ("A", "FL11"):
        best = recipe(aim, PAINTS, 3, 12, wishes=Wishes(light=light)).recipes[0]
        assert best.light == light
        assert best.delta_e00 == best.by_light[light]
        assert f"under {light})" in best.words
    worst = recipe(aim, PAINTS, 3, 12, wishes=Wishes(light="all")).recipes[0]
    assert worst.delta_e00 == max(worst.by_light.values()) == worst.by_light[worst.light]


def test_nearest_in_spectrum_is_never_out_of_reach_for_its_colour() -> None:
    aim = target("lab:60,90,60", SHELF)
    answer = recipe(aim, PAINTS, 3, 12, wishes=Wishes(light="spectrum"))
    words = answer.words
    assert answer.search.measure == "percent of reflectance"
    assert "out of reach" not in words
    assert "nearest in spectrum; by daylight it misses by CIEDE2000" in words


def test_prices_are_added_only_in_one_currency() -> None:
    there = tube("Titanium White", "PW6", currency="GBP")
    shelf = Shelf((there, *TUBES[1:]))
    mixed = [p for p in map(shelf.tube, (there, *TUBES[1:])) if p is not None]
    one, several = (recipe(target("lab:70,-30,30", SHELF), b, 3, 12) for b in (PAINTS, mixed))
    assert one.recipes[0].price_per_ml == pytest.approx(8 / 60, abs=1e-3)
    assert one.recipes[0].currency == "EUR"
    assert several.recipes[0].price_per_ml is None and several.recipes[0].currency == ""
    with pytest.raises(UserError, match="EUR and GBP cannot be compared"):
        recipe(target("lab:70,-30,30", SHELF), mixed, 3, 12, wishes=Wishes(cheaper=True))


def test_what_a_tube_from_the_shop_promises_is_what_it_gives() -> None:
    shop = [p for p in PAINTS if p.refs[0] in ("PY3", "PG7")]
    own = [p for p in PAINTS if p not in shop]
    aim = target("lab:70,-30,30", SHELF)
    answer = recipe(aim, own, 3, 8, shop=shop)
    assert answer.helper is not None
    bought = next(p for p in shop if p.tube is not None and p.tube.id == answer.helper.tube)
    then = recipe(aim, [*own, bought], 3, 8).recipes[0]
    assert then.delta_e00 == pytest.approx(answer.helper.delta_e00, abs=0.02)
    assert f"falls to {then.delta_e00:.1f}" in answer.helper.words


def test_an_offer_is_no_surer_than_what_it_stands_in_for() -> None:
    guessed = SHELF.blend(("PY3", "PG7"))
    made = offer(guessed, PAINTS, SHELF, (), limit=6.0)
    assert made is not None
    offered, blend = made
    assert offered.confidence == "low"
    assert any("starting guess" in reason for reason in offered.reasons)
    assert offered.behaviour is not None
    assert offered.behaviour.worst.delta_e00 == offered.worst_delta_e00
    assert offered.close_call == (offered.behaviour.worst_high > 6.0)
    assert "behaviour" not in plain(offered)
    assert set(blend.refs) <= {"PW6", "PY3", "PB29", "PV19/gamma", "PG7", "PR108"}


def test_the_moves_that_mend_are_the_colours_own_slopes() -> None:
    best = recipe(target("lab:60,25,-20", SHELF), PAINTS, 3, 12).recipes[0]
    chosen = [next(p for p in PAINTS if p.name == part.title) for part in best.parts]
    parts = np.array([part.parts for part in best.parts])
    mends = {s.rpartition("a little ")[2]: s for s in best.steps if s.startswith("if it is")}
    for i, paint in enumerate(chosen):
        more = parts + 0.05 * np.eye(len(parts))[i] * parts.sum()
        labs = []
        for n in (parts, more):
            K, S = (sum(c * getattr(p, k)[0] for c, p in zip(n / n.sum(), chosen, strict=True))
                    for k in "KS")  # fmt: skip
            labs.append(lab_from_reflectance(appearance(K, S)))
        said = mends[paint.name]
        gained = labs[1][0] - labs[0][0]
        # What is said to be too dark is mended by a paint that lightens, and the other way.
        if "darker" in said:
            assert gained > 0.0
        if "lighter" in said:
            assert gained < 0.0
