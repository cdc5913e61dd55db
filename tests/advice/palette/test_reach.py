"""The widest range, the next tube, what is lost without one, and two palettes side by side."""

from __future__ import annotations

from itertools import combinations

import pytest

from tests.advice.palette.shop import box, shop
from tubewise.advice.palette.next_tube import next_tube
from tubewise.advice.palette.offer import Offer, offer_of, offer_of_register
from tubewise.advice.palette.reach import range_of, widest_range
from tubewise.advice.palette.versus import versus
from tubewise.advice.palette.without import without
from tubewise.advice.recipes.target import target
from tubewise.advice.recipes.wishes import Wishes
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.tubes.tube import Tube


def offered(tubes: list[Tube], shelf: Shelf) -> Offer:
    return offer_of(tubes, shelf)


@pytest.mark.slow
def test_the_widest_four_are_the_widest_of_all_fours(shelf: Shelf) -> None:
    offer = offered(shop(), shelf)
    answer = widest_range(offer, 4, shelf)
    volumes = [
        range_of(kinds, shelf, "acrylic").volume for kinds in combinations(offer.kinds[:6], 4)
    ]
    assert answer.proved
    assert answer.volume >= max(volumes) * 0.99
    assert len(answer.tubes) == 4
    assert answer.share is not None and 0.0 < answer.share < 1.0


@pytest.mark.slow
def test_the_order_of_the_catalogue_changes_nothing(shelf: Shelf) -> None:
    one = widest_range(offered(shop(), shelf), 4, shelf)
    other = widest_range(offered(shop()[::-1], shelf), 4, shelf)
    assert [m.tube.tube for m in one.tubes] == [m.tube.tube for m in other.tubes]


@pytest.mark.slow
def test_a_tighter_budget_never_reaches_more(shelf: Shelf) -> None:
    offer = offered(shop(), shelf)
    few, many = (widest_range(offer, 4, shelf, budget=b) for b in (30.0, 60.0))
    assert few.price is not None and few.price <= 30.0
    assert few.volume <= many.volume * 1.005


def test_what_must_be_in_is_in(shelf: Shelf) -> None:
    answer = widest_range(offered(shop(), shelf), 3, shelf, must=("PBr7/burnt-sienna",))
    assert any("Burnt Sienna" in m.tube.title for m in answer.tubes)


@pytest.mark.slow
def test_white_at_hand_reaches_more_than_the_tubes_alone(shelf: Shelf) -> None:
    kinds = offered(box("PY3", "PV19", "PB15:3"), shelf).kinds
    alone, tinted = (range_of(kinds, shelf, "acrylic", how) for how in ("alone", "white"))
    assert tinted.volume > 2.0 * alone.volume
    assert tinted.shape.lightest > alone.shape.lightest


@pytest.mark.slow
def test_watercolour_is_thinned_on_paper(shelf: Shelf) -> None:
    kinds = offered(box("PY3", "PV19", "PB15:3", medium="watercolour"), shelf).kinds
    answer = range_of(kinds, shelf, "watercolour")
    assert answer.how == "water"
    assert answer.volume > 20_000.0
    # Bare paper is the lightest of all.
    assert answer.shape.lightest > 90.0


def test_the_register_is_an_offer_too(shelf: Shelf) -> None:
    offer = offer_of_register(shelf, "acrylic", Wishes(lasting=True))
    assert len(offer.kinds) > 40
    assert offer.rows(("PV19/gamma",)) != ()


def test_without_the_only_yellow_yellows_go(shelf: Shelf) -> None:
    offer = offered(box("PW6", "PY3", "PV19", "PB29"), shelf)
    wanted = [target("munsell:5Y 8/10", shelf), target("munsell:5PB 4/8", shelf)]
    answer = without(offer, "PY3", shelf, wanted, within=4.0)
    assert answer.loses > 0.3
    assert "yellows" in answer.hues
    worst = answer.targets[0]
    assert worst.before.name == "munsell:5Y 8/10"
    assert worst.after.delta_e00 > worst.before.delta_e00


def test_a_second_tube_of_the_same_pigment_is_nothing_lost(shelf: Shelf) -> None:
    twice = [*box("PW6", "PY3", "PB29"), Tube(medium="acrylic", name="Old Yellow", label="PY3")]
    offer = offered(twice, shelf)
    assert len(offer.kinds) == 3
    with pytest.raises(UserError, match="only tube"):
        without(offered(box("PY3"), shelf), "PY3", shelf)


@pytest.mark.slow
def test_the_next_tube_is_the_one_that_adds_most(shelf: Shelf) -> None:
    mine, sold = offered(box("PW6", "PY3", "PB29"), shelf), offered(shop(), shelf)
    answer = next_tube(mine, sold, shelf)
    gains = {
        kind.refs: range_of([*mine.kinds, kind], shelf, "acrylic").volume
        for kind in sold.kinds
        if kind.refs not in {k.refs for k in mine.kinds}
    }
    best = max(gains.values())
    first = next(k for k in sold.kinds if k.tube and k.tube.id == answer.singles[0].tubes[0].tube)
    assert gains[first.refs] >= 0.99 * best
    assert answer.pair is not None and answer.pair.gains > answer.singles[0].gains


@pytest.mark.slow
def test_the_next_tube_for_a_colour_brings_it_within_reach(shelf: Shelf) -> None:
    mine, sold = offered(box("PW6", "PY3", "PB29"), shelf), offered(shop(), shelf)
    red = target("PV19/gamma", shelf)
    answer = next_tube(mine, sold, shelf, [red])
    assert answer.singles[0].reached == 1
    assert answer.singles[0].tubes[0].pigments == ("PV19/gamma",)


@pytest.mark.slow
def test_two_palettes_share_what_both_reach(shelf: Shelf) -> None:
    a, b = (offered(box(*c), shelf) for c in (("PW6", "PY3", "PB29"), ("PW6", "PY3", "PB15:3")))
    answer = versus(a, b, shelf)
    assert 0.0 < answer.shared < min(answer.a.volume, answer.b.volume)
    assert answer.a.only_here == pytest.approx(answer.a.volume - answer.shared, abs=0.2)
    assert "greens" in answer.b.better
    same = versus(a, a, shelf)
    assert same.shared == pytest.approx(same.a.volume, rel=1e-6)


def test_media_are_not_mixed(shelf: Shelf) -> None:
    oil = offered(shop("oil"), shelf)
    with pytest.raises(UserError, match="oil"):
        next_tube(offered(box("PW6"), shelf), oil, shelf)
    with pytest.raises(UserError, match="oil"):
        versus(offered(box("PW6"), shelf), oil, shelf)
