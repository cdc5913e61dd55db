"""What lies over what, as a painter asks it. Expected answers: common practice, no source."""

from __future__ import annotations

import pytest

from tests.advice.shops import OIL, named
from tests.invented import tube
from tubewise.advice.alike.compare import compare
from tubewise.advice.classroom.check import check
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.layers import Coat, by_layer, coat, coat_of, layers, of_media
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.pigments.ref import Ref
from tubewise.tubes.supply import Slot, SupplyList
from tubewise.tubes.tube import Box

SHELF = Shelf(OIL)


def _laid(*terms: str, ground: str = "", medium: str = "oil") -> tuple[str, str]:
    answer = layers([coat_of(term, SHELF, medium) for term in terms], ground)
    return answer.verdict, " ".join(layer.words for layer in answer.layers)


@pytest.mark.parametrize(
    ("coats", "verdict", "words"),
    [
        (("acrylic", "oil"), "yes", "matt acrylic layer that is kept thin"),
        (("oil", "acrylic"), "no", "acrylic never over oil"),
        (("Öl", "Gouache"), "no", "water crawls on an oil film"),
        (("PBr7/burnt-umber", "PBk9"), "yes", "fat over lean, as far as pigments go"),
        (("PBk9", "PBr7/burnt-umber"), "with care", "better the other way round"),
        (("oil", "oil"), "with care", "fat over lean"),
    ],
)
def test_coats_from_the_ground_up(coats: tuple[str, ...], verdict: str, words: str) -> None:
    assert _laid(*coats)[0] == verdict
    assert words in _laid(*coats)[1]


def test_what_lies_two_coats_below_still_moves() -> None:
    """Watercolour over oil stays wrong with a coat of acrylic between, which is wrong itself."""
    verdict, words = _laid("oil", "acrylic", "watercolour")
    assert verdict == "no" and "watercolour over oil: no" in words


def test_the_first_coat_lies_on_the_ground() -> None:
    assert _laid("oil", ground="watercolour paper")[0] == "no"
    assert _laid("oil", "oil", ground="acrylic primer")[0] == "with care"
    assert "oil on acrylic primer: yes" in _laid("oil", "oil", ground="acrylic primer")[1]
    with pytest.raises(UserError, match="the grounds are"):
        _laid("oil", ground="toast")


def test_a_paint_that_says_no_medium_is_not_known() -> None:
    assert _laid("acrylic", "PB29", medium="")[0] == "not known"


@pytest.mark.parametrize("terms", [(), ("oil",)])
def test_one_coat_alone_is_no_question(terms: tuple[str, ...]) -> None:
    with pytest.raises(UserError, match="two coats"):
        _laid(*terms)


def test_an_unknown_word_is_told_as_one() -> None:
    with pytest.raises(UserError, match="no medium"):
        coat_of("acrilyc", SHELF)


def test_media_side_by_side_get_one_sentence() -> None:
    assert of_media(["oil", "acrylic", "", "Öl"]) == (
        "oil lies over acrylic, never under it: acrylic never over oil: it sets in an hour on a "
        "film that moves for years, and comes off",
    )
    assert of_media(["oil"]) == ()
    assert of_media(["pastel", "oil"])[0].startswith("neither pastel over oil")


def test_which_oils_belong_below() -> None:
    paints = [
        Coat(name=name, medium="oil", refs=tuple(map(str, SHELF.term(named(OIL, name).id).refs)))
        for name in ("Lead White", "Alizarin Crimson", "Ivory Black")
    ]
    words = by_layer(paints)
    assert "Lead White dries fast and belongs in the lower layers" in words
    assert "Alizarin Crimson and Ivory Black dry slowly" in words
    assert by_layer(paints[1:]) == ""
    acrylics = [Coat(name=c.name, medium="acrylic", refs=c.refs) for c in paints]
    assert by_layer(acrylics) == ""


def test_two_paints_side_by_side_say_which_goes_below() -> None:
    black, umber = named(OIL, "Ivory Black"), tube("Umber", "PBr7 burnt umber", medium="oil")
    shelf = Shelf((*OIL, umber, acrylic := tube("Ultramarine", "PB29")))
    said = compare(black, umber, shelf).layers
    assert any("dries fast and" in words and "below it slowly" in words for words in said)
    assert "oil lies over acrylic" in compare(black, acrylic, shelf).layers[0]
    assert coat(shelf.term("PB29"), "oil").medium == "oil"


def test_a_class_of_two_media_hears_what_lies_over_what() -> None:
    slots = [
        Slot(slot, (frozenset({Ref(ref)}),), medium)
        for slot, ref, medium in (("Ground", "PY43", "acrylic"), ("Blue", "PB29", "oil"))
    ]
    box = Box(seat="1", tubes=(tube("Ultramarine", "PB29", medium="watercolour"),))
    answer = check(Workshop(SupplyList("Two", tuple(slots), ()), (box,)))
    assert answer.summary.layers[0].startswith("oil lies over acrylic, never under it")
    reasons = " ".join(r for slot in answer.seats[0].slots for r in slot.reasons)
    assert "they do not mix; in layers" in reasons
