"""Stand-ins: the same pigment first, mixtures of its own pigments next, and honest refusals."""

from __future__ import annotations

from itertools import pairwise

import pytest

from tests.invented import tube
from tubewise.advice.alike.identity import contents_of_refs, contents_of_tube, identity
from tubewise.advice.alike.standin import standin
from tubewise.advice.alike.standin_results import StandInWishes
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.tubes.tube import Tube

WHITE = tube("Titanium White", "PW6")
LEMON = tube("Lemon Yellow", "PY3")
WARM = tube("Yellow Medium", "PY74")
GREEN = tube("Phthalo Green", "PG7")
SPRING = tube("Spring Green", "PY3, PY74, PG7, PW6", stock=0, swatch_lab=(72.0, -40.0, 55.0))
MAUVE = tube("Mauve", "PV23", line="Study", grade="student", price=4.0)
VIOLET = tube("Dioxazine Violet", "PV23", price=11.0)
OIL = tube("Mauve", "PV23", medium="oil")
ALL = (WHITE, LEMON, WARM, GREEN, SPRING, MAUVE, VIOLET, OIL)


def test_the_same_pigment_in_student_grade_comes_first_with_its_parts() -> None:
    answer = standin(VIOLET, ALL, Shelf(ALL))
    first = answer.standins[0]
    assert first.tube == MAUVE.id
    assert first.identity == "same pigments"
    assert first.parts_for_one == pytest.approx(1.8, abs=0.2)
    assert all(s.tube != OIL.id for s in answer.standins)


def test_a_sold_out_convenience_colour_is_mixed_again_from_its_pigments() -> None:
    answer = standin(SPRING, ALL, Shelf(ALL))
    mixed = [s for s in answer.standins if s.recipe is not None]
    assert mixed and mixed[0].worst_delta_e00 < 5.0
    # What it is called follows from what is in it, not from where it was looked for.
    for one in mixed:
        held = contents_of_refs(p for part in one.recipe.parts for p in part.pigments)  # type: ignore[union-attr]
        assert one.identity == identity(contents_of_tube(SPRING), held)
    assert len({s.title for s in mixed}) == len(mixed)
    assert {p.title for p in mixed[0].recipe.parts} <= {  # type: ignore[union-attr]
        t.title for t in (WHITE, LEMON, WARM, GREEN)
    }
    assert "parts solved from its swatch" in answer.words
    shares = dict(answer.composition)
    assert sum(shares.values()) == pytest.approx(100.0, abs=0.5)


def test_without_a_swatch_its_parts_are_a_starting_guess() -> None:
    blind = tube("Leaf Green", "PY3, PG7", stock=0)
    tubes = (*ALL, blind)
    assert "starting guess" in standin(blind, tubes, Shelf(tubes)).words


def test_nothing_is_offered_where_nothing_comes_near() -> None:
    answer = standin("PR108", (GREEN, WHITE), Shelf((GREEN, WHITE)))
    assert answer.standins == ()
    assert "nothing here stands in" in answer.words


def test_the_unknown_has_no_stand_in() -> None:
    blank = tube("Lilac", "60 ml")
    with pytest.raises(UserError, match="declares no pigments"):
        standin(blank, ALL, Shelf((*ALL, blank)))


def test_price_stock_permanence_and_cautions_come_along() -> None:
    red = tube("Cadmium Red", "PR108", price=15.0)
    other = tube("Cadmium Red", "PR108", price=12.0, maker="Millrace")
    first = standin(red, (other,), Shelf((red, other))).standins[0]
    assert (first.price, first.stock) == (12.0, 3)
    assert any("cadmium" in c.text.lower() for c in first.cautions)
    assert first.lightfastness in ("I", "II", "not rated")
    assert "Cadmium Red" in standin(red, (other,), Shelf((red, other)))._repr_html_()


def test_a_mixture_stays_within_one_medium() -> None:
    blue = tube("Ultramarine", "PB29", medium="oil")
    tubes = (*ALL, blue, tube("Titanium White", "PW6", medium="oil"))
    with pytest.raises(UserError, match="acrylic and oil, which do not mix"):
        standin("PV23", tubes, Shelf(tubes))
    of = {t.id: t.medium for t in tubes}
    for medium in ("acrylic", "oil"):
        answer = standin("PV23", tubes, Shelf(tubes), medium=medium)
        assert answer.standins
        for one in answer.standins:
            used = [p.tube for p in one.recipe.parts] if one.recipe else [one.tube]
            assert {of[str(t)] for t in used} == {medium}


def test_a_tube_has_its_own_medium() -> None:
    with pytest.raises(UserError, match="oil does not mix"):
        standin(VIOLET, ALL, Shelf(ALL), medium="oil")


@pytest.mark.slow
def test_the_sold_out_are_listed_on_request_only_come_last_and_are_never_mixed_from() -> None:
    gone = tube("Dioxazine Violet", "PV23", maker="Millrace", price=1.0, stock=0)
    tubes = (*ALL, gone)
    plain = standin(VIOLET, tubes, Shelf(tubes), medium="acrylic")
    assert gone.id not in {s.tube for s in plain.standins}
    assert "2 sold-out tubes passed over" in plain.words
    assert [(t.tube, t.why) for t in plain.left_out if t.tube == gone.id] == [(gone.id, "sold out")]
    everything = StandInWishes(sold_out=True)
    answer = standin(VIOLET, tubes, Shelf(tubes), wishes=everything)
    # As good and cheaper than the first, but not to be had.
    assert [s.tube for s in answer.standins if s.does][-1] == gone.id
    only = standin(VIOLET, (gone,), Shelf((gone, VIOLET)), wishes=everything)
    assert "sold out" in only.words
    out = tube("Phthalo Green", "PG7", stock=0)
    shop = (WHITE, LEMON, WARM, SPRING, out)
    for one in standin(SPRING, shop, Shelf(shop)).standins:
        assert one.recipe is None or out.id not in {p.tube for p in one.recipe.parts}


@pytest.mark.slow
def test_more_tubes_on_the_shelf_never_make_a_worse_mixture() -> None:
    more = [
        tube(name, label, price=price)
        for name, label, price in (
            ("Zinc White", "PW4", 3.0),
            ("Yellow Ochre", "PY43", 3.0),
            ("Burnt Sienna", "PBr7 (burnt sienna)", 3.0),
            ("Ultramarine", "PB29", 3.0),
            ("Phthalo Blue", "PB15:3", 3.0),
            ("Chromium Green", "PG17", 3.0),
            ("Naphthol Red", "PR170", 3.0),
            ("Carbon Black", "PBk7", 3.0),
            ("Diarylide Yellow", "PY83", 3.0),
            ("Phthalo Green Yellow", "PG36", 3.0),
        )
    ]

    def best(tubes: tuple[Tube, ...]) -> float:
        found = standin(SPRING, tubes, Shelf((*tubes, SPRING)), most=50).standins
        return min(s.worst_delta_e00 for s in found if s.recipe is not None)

    base = (WHITE, LEMON, WARM, GREEN)
    steps = [best((*base, *more[:n])) for n in (0, 4, 7, 10)]
    assert all(after <= before + 0.01 for before, after in pairwise(steps))


@pytest.mark.slow
def test_cheap_tubes_do_not_crowd_out_the_ones_that_are_needed() -> None:
    crowd = tuple(
        tube(f"Ochre {n}", "PY43", maker="Millrace", price=0.5 + n / 100) for n in range(60)
    )
    tubes = (*ALL, *crowd)
    mixed = [s for s in standin(SPRING, tubes, Shelf(tubes)).standins if s.recipe is not None]
    assert mixed and mixed[0].worst_delta_e00 < 5.0


def test_the_order_of_a_box_does_not_choose_between_its_tubes() -> None:
    box = [
        tube("Deep", "PB29", swatch_lab=(20.0, 10.0, -30.0)),
        tube("Deeper", "PB29", swatch_lab=(19.0, 9.0, -28.0)),
        tube("Rose", "PV19/gamma"),
    ]
    wanted = tube("Mauve", "PB29, PV19/gamma", stock=0)
    shelf = Shelf([*box, wanted])
    there, back = (standin(wanted, order, shelf).standins for order in (box, box[::-1]))
    assert any(one.recipe for one in there)
    assert [one.title for one in there] == [one.title for one in back]
