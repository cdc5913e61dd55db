"""Watercolours compared in washes on paper, gouache as body colour. Common practice, no source."""

from __future__ import annotations

import pytest

from tests.advice.shops import GOUACHE, OIL, WATERCOLOUR, named
from tubewise.advice.alike.compare import Compared, compare, in_common
from tubewise.advice.alike.standin import standin
from tubewise.advice.cards.comparison import comparison
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf

SHELF = Shelf(WATERCOLOUR)
WASHES = ["in a strong wash", "in a middle wash", "in a pale wash"]


def _compared(a: str, b: str) -> Compared:
    return compare(named(WATERCOLOUR, a), named(WATERCOLOUR, b), SHELF)


def test_watercolours_are_compared_in_washes_on_paper_and_never_over_black() -> None:
    seen = _compared("Ultramarine", "Cobalt Blue")
    assert [d.situation for d in seen.situations[:3]] == WASHES
    assert [d.parts for d in seen.situations[:3]] == [
        "1 paint : 1 water",
        "1 paint : 6 water",
        "1 paint : 20 water",
    ]
    assert seen.over_black is None
    assert [use.use for use in seen.uses] == [*WASHES, "in mixtures"]
    said = " ".join((seen.verdict, *seen.reasons, *(d.with_ for d in seen.situations)))
    assert "PW6" not in said and "white" not in said and "over black" not in said
    assert [d.parts for d in seen.mixes] == ["1 : 1 : 12 water"] * len(seen.mixes)


def test_a_strong_wash_glows_where_a_masstone_is_nearly_black() -> None:
    seen = _compared("Phthalo Blue", "Ultramarine")
    assert seen.masstone.a.lab[0] > 35.0 > 25.0 > compare("PB15:3", "PB29", SHELF).masstone.a.lab[0]


def test_washes_grow_paler() -> None:
    seen = _compared("Quinacridone Rose", "Pyrrol Red")
    light = [d.a.lab[0] for d in seen.situations[:3]]
    assert light == sorted(light)


def test_ultramarine_and_cobalt_part_in_hue_and_phthalo_and_cerulean_in_strength() -> None:
    assert _compared("Ultramarine", "Cobalt Blue").step != "yes"
    strong = _compared("Phthalo Blue", "Cerulean")
    assert strong.step == "no" and strong.parts_for_one > 4.0


def test_turned_round_a_comparison_of_washes_says_the_same() -> None:
    there, back = (
        _compared("Magenta", "Quinacridone Rose"),
        _compared("Quinacridone Rose", "Magenta"),
    )
    assert there.step == back.step
    assert [d.delta_e00 for d in there.situations] == [d.delta_e00 for d in back.situations]


def test_two_whites_are_body_colour_among_watercolours() -> None:
    white = named(WATERCOLOUR, "Chinese White")
    seen = compare(white, "PW6", SHELF)
    assert seen.over_black is not None and seen.masstone.situation == "alone"


def test_a_card_of_a_white_and_two_colours_has_the_rows_they_share() -> None:
    ids = [named(WATERCOLOUR, n).id for n in ("Chinese White", "Ultramarine", "Cobalt Blue")]
    card = comparison([*ids, "PW6"], SHELF)
    rows = in_common(card.compared)
    assert rows and all(len(row) == 3 for row in rows)


def test_gouache_is_body_colour_not_laid_thin() -> None:
    shelf = Shelf(GOUACHE)
    seen = compare(named(GOUACHE, "Lemon Yellow"), named(GOUACHE, "Cadmium Yellow"), shelf)
    assert seen.undertone is None and seen.over_black is not None
    assert "thin" not in [use.use for use in seen.uses]
    assert "hides more" in seen.verdict


def test_oil_is_judged_in_the_white_of_the_shop() -> None:
    """A painter who has only lead white tints with lead white."""
    without = [t for t in OIL if t.name not in ("Titanium White", "Zinc White")]
    seen = compare(named(OIL, "Ultramarine"), named(OIL, "Cobalt Blue"), Shelf(without))
    assert {d.with_ for d in seen.tints} == {"PW1"}
    assert all(d.situation.endswith("and PW1") for d in seen.mixes)


@pytest.mark.parametrize("wanted", ["Viridian", "Cerulean"])
def test_a_stand_in_is_found_in_washes_and_holds_no_white(wanted: str) -> None:
    answer = standin(named(WATERCOLOUR, wanted), WATERCOLOUR, SHELF)
    first = answer.standins[0]
    assert first.does and first.recipe is not None
    assert [d.situation for d in first.differences[:3]] == WASHES
    pigments = {p for part in first.recipe.parts for p in part.pigments}
    assert not pigments & {"PW4", "PW6", "PW1"}


def test_no_stand_in_is_judged_in_white() -> None:
    answer = standin(named(WATERCOLOUR, "New Gamboge"), WATERCOLOUR, SHELF)
    assert answer.standins
    assert all(d.with_ != "PW6" for s in answer.standins for d in s.differences)


def test_pigments_are_compared_in_the_medium_that_is_asked_for() -> None:
    asked = compare("PB29", "PB28", SHELF, medium="Aquarell")
    assert [d.situation for d in asked.situations[:3]] == WASHES
    assert compare("PB29", "PB28", SHELF).over_black is not None
    with pytest.raises(UserError, match="no medium we know"):
        compare("PB29", "PB28", SHELF, medium="syrup")
