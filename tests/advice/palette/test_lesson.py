"""A lesson's tubes: all its colours in reach, no fewer would do, and a list that can be checked."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

from tests.advice.palette.shop import shop
from tubewise.advice.classroom.check import check
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.palette.aims import lesson_aims
from tubewise.advice.palette.film import film_for
from tubewise.advice.palette.lesson import Lesson, LessonWishes, lesson, lesson_offer
from tubewise.advice.palette.targets import distances, nearest
from tubewise.advice.recipes.wishes import Wishes
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.tubes.supply import KeyMix, Slot, SupplyList, read_supply_list, write_supply_list
from tubewise.tubes.tube import Box, Tube

ROSE = KeyMix("Dusk", (("PV19/gamma", 1), ("PB29", 1), ("PW6", 4)), "a rosy violet")  # type: ignore[arg-type]
MOSS = KeyMix("Moss", (("PY3", 4), ("PG7", 1), ("PW6", 2)), "a bright green")  # type: ignore[arg-type]

WARM_YELLOW = Tube(
    maker="Millrace", line="Weir", medium="acrylic", name="Warm Yellow", label="PY109", price=9.0,
    currency="EUR", stock=2,
)  # fmt: skip


def lesson_of(*slots: str, mixes: tuple[KeyMix, ...] = (ROSE, MOSS)) -> SupplyList:
    asked = tuple(Slot(ref, (frozenset({ref}),), "acrylic") for ref in slots)  # type: ignore[arg-type]
    return SupplyList("Dusk", asked, mixes)


def answered(
    supply: SupplyList, shelf: Shelf, tubes: list[Tube] | None = None, **wishes: object
) -> Lesson:
    sold = tubes or shop()
    offer = lesson_offer(supply, sold, shelf)
    return lesson(supply, offer, shelf, sold, LessonWishes(**wishes))  # type: ignore[arg-type]


@pytest.mark.slow
def test_every_colour_is_within_reach_and_no_fewer_tubes_would_do(shelf: Shelf) -> None:
    supply = lesson_of("PW6", "PB29")
    answer = answered(supply, shelf, within=3.0)
    assert answer.proved
    assert not answer.beyond
    assert all(recipe.reached for recipe in answer.recipes)
    offer = lesson_offer(supply, shop(), shelf)
    film = film_for("acrylic", shelf)
    aims = [aim.target for aim in lesson_aims(supply, shelf, (), film)]
    for fewer in combinations(offer.kinds, len(answer.tubes) - 1):
        assert distances(fewer, film, aims).max() > 3.0


@pytest.mark.slow
def test_a_larger_catalogue_and_a_looser_difference_are_never_worse(shelf: Shelf) -> None:
    supply = lesson_of("PW6", "PB29")
    small = [t for t in shop() if t.name not in ("Violet", "Golden Yellow", "Phthalo Blue")]
    few, many = answered(supply, shelf, small), answered(supply, shelf)
    assert len(many.tubes) <= len(few.tubes)
    assert len(answered(supply, shelf, within=6.0).tubes) <= len(many.tubes)


@pytest.mark.slow
def test_the_cheapest_costs_no_more_than_the_fewest(shelf: Shelf) -> None:
    supply = lesson_of("PW6")
    fewest, cheapest = (answered(supply, shelf, within=4.0, cheapest=c) for c in (False, True))
    assert fewest.price is not None and cheapest.price is not None
    assert cheapest.price <= fewest.price
    with pytest.raises(UserError, match="too little"):
        answered(supply, shelf, within=4.0, budget=5.0)


@pytest.mark.slow
@pytest.mark.parametrize(
    "wishes",
    [
        Wishes(lasting=True),
        Wishes(uncautioned=True),
        Wishes(single=True),
        Wishes(must_not=("PY74",)),
    ],
)
def test_a_wish_more_is_never_cheaper_and_never_fewer_tubes(shelf: Shelf, wishes: Wishes) -> None:
    supply = lesson_of("PW6")
    budget = Tube(
        maker="Millrace", line="Weir", medium="acrylic", name="Rose", label="PR83", price=1.5,
        currency="EUR", stock=4,
    )  # fmt: skip
    sold = [*shop(), budget]
    for cheapest in (False, True):
        plain = answered(supply, shelf, sold, within=5.0, cheapest=cheapest)
        offer = lesson_offer(supply, sold, shelf, wishes=wishes)
        wished = lesson(supply, offer, shelf, sold, LessonWishes(within=5.0, cheapest=cheapest))
        assert plain.proved and plain.price is not None and wished.price is not None
        assert not wished.beyond
        if cheapest:
            assert wished.price >= plain.price
        else:
            assert (len(wished.tubes), wished.price) >= (len(plain.tubes), plain.price)


@pytest.mark.slow
def test_the_order_of_the_catalogue_changes_nothing(shelf: Shelf) -> None:
    supply = lesson_of("PW6", "PB29")
    one, other = answered(supply, shelf), answered(supply, shelf, shop()[::-1])
    assert [t.tube.tube for t in one.tubes] == [t.tube.tube for t in other.tubes]


@pytest.mark.slow
def test_the_list_is_read_back_and_the_check_runs_on_it(shelf: Shelf, tmp_path: Path) -> None:
    answer = answered(lesson_of("PW6", "PB29"), shelf, within=3.0)
    write_supply_list(tmp_path / "new.csv", answer.supply)
    read = read_supply_list(tmp_path / "new.csv")
    assert [slot.accept for slot in read.slots] == [slot.accept for slot in answer.supply.slots]
    assert {mix.mix for mix in read.mixes} >= {"Dusk", "Moss"}
    seen = check(Workshop(read, [Box("1", tuple(shop()))], shop()))
    assert {slot.verdict for slot in seen.seats[0].slots} == {"right pigment"}


@pytest.mark.slow
def test_a_standin_keeps_every_colour_in_reach(shelf: Shelf) -> None:
    supply = lesson_of("PW6", mixes=(MOSS,))
    sold = [*shop(), WARM_YELLOW]
    answer = answered(supply, shelf, sold, within=5.0)
    swapped = [(t, other) for t in answer.tubes for other in t.standins]
    assert swapped
    film = film_for("acrylic", shelf)
    aims = [aim.target for aim in lesson_aims(supply, shelf, (), film)]
    kinds = {", ".join(k.pigments): k for k in lesson_offer(supply, sold, shelf).kinds}
    for tube, other in swapped:
        rest = [", ".join(t.tube.pigments) for t in answer.tubes if t is not tube]
        palette = [kinds[name] for name in (*rest, other)]
        assert all(one.reached for one in nearest(palette, film, aims, within=5.0))


@pytest.mark.slow
def test_what_serves_only_in_a_mixture_is_no_standin_for_the_paint(shelf: Shelf) -> None:
    supply = lesson_of("PW6", mixes=(MOSS,))
    answer = answered(supply, shelf, within=5.0)
    film = film_for("acrylic", shelf)
    aims = [aim.target for aim in lesson_aims(supply, shelf, (), film)]
    kinds = {", ".join(k.pigments): k for k in lesson_offer(supply, shop(), shelf).kinds}
    (yellow,) = (t for t in answer.tubes if t.tube.pigments == ("PY74",))
    others = [", ".join(t.tube.pigments) for t in answer.tubes if t is not yellow]
    with_lemon = [kinds[name] for name in (*others, "PY3")]
    assert all(mix.reached for mix in nearest(with_lemon, film, aims, within=5.0))
    assert "PY3" not in yellow.standins


@pytest.mark.slow
def test_a_name_that_other_pigments_bear_is_named(shelf: Shelf) -> None:
    other = Tube(maker="Millrace", line="Weir", medium="acrylic", name="Rose", label="PR122")
    answer = answered(lesson_of("PW6", "PV19/gamma"), shelf, [*shop(), other])
    rose = next(t for t in answer.tubes if t.tube.title.endswith("Rose"))
    assert rose.beware == ("“Rose” may be PR122",)
    assert any("PR122" in slot.note for slot in answer.supply.slots)


@pytest.mark.slow
def test_what_nothing_reaches_is_named_and_the_rest_is_solved(shelf: Shelf) -> None:
    supply = lesson_of("PW6", "PO73", mixes=())
    answer = answered(supply, shelf, within=1.0)
    assert [one.name for one in answer.beyond] == ["PO73", "PO73, 1 : 10 in white"]
    assert [one.name for one in answer.recipes] == ["PW6"]
    assert "PO73" in answer.words


@pytest.mark.slow
def test_watercolour_lessons_are_mixed_with_water_on_paper(shelf: Shelf) -> None:
    supply = SupplyList(
        "Washes",
        (Slot("Rose", (frozenset({"PV19/gamma"}),), "watercolour"),),  # type: ignore[arg-type]
        (KeyMix("Dusk", (("PV19/gamma", 1), ("PB29", 2)), ""),),  # type: ignore[arg-type]
    )
    tubes = shop("watercolour")
    answer = lesson(supply, lesson_offer(supply, tubes, shelf), shelf, tubes)
    assert {ref for t in answer.tubes for ref in t.tube.pigments} == {"PV19/gamma", "PB29"}
    assert answer.medium == "watercolour"
    dusk = next(mix for mix in answer.supply.mixes if mix.mix == "Dusk")
    assert {ref for ref, _ in dusk.parts} == {"PV19/gamma", "PB29"}


@pytest.mark.slow
def test_pigments_of_the_register_will_do_where_there_is_no_shop(shelf: Shelf) -> None:
    supply = lesson_of("PW6", "PB29", mixes=())
    offer = lesson_offer(supply, (), shelf, wishes=Wishes(single=True, lasting=True))
    answer = lesson(supply, offer, shelf)
    assert len(answer.tubes) == 2
    assert answer.price is None
