"""Which tubes a text means: all words in any order, short, in other languages; near ones apart."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.invented import tube
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf
from tubewise.tubes.naming import TubeNames, tube_meant

SHOP = (
    tube("Ultramarine", "PB29"),
    tube("Ultramarine", "PB29", size_ml=200.0),
    tube("Ultramarine Violet", "PV15"),
    tube("Ultramarine", "PB29", line="Dabs", grade="student"),
    tube("Permanent Rose", "PV19"),
    tube("Permanent Rose", "PR122", maker="Millrace", line="Weir", medium="oil"),
    tube("Cadmium Red Light", "PR108"),
    tube("Heath Green", "PG7, PY42"),
)
NAMES = TubeNames(SHOP)


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ("ultramarine fenland", ["Fenland"]),
        ("Fenland ultramarine", ["Fenland"]),
        ("dabs ultramarine", ["Dabs"]),
        ("ultramarine student", ["Dabs"]),
        ("rose oil", ["Weir"]),
        ("Rose Öl", ["Weir"]),
        ("perm rose millrace", ["Weir"]),
        ("PV19 rose", ["Fenland"]),
        ("rose PR 122", ["Weir"]),
        ("cad red lt", ["Fenland"]),
        ("heath grn", ["Fenland"]),
        ("P.G. 7", ["Fenland"]),
        ("ultramarine", ["Fenland", "Dabs"]),
        ("oakfen-fenland-acrylic-heath-green-60ml", ["Fenland"]),
    ],
)
def test_all_words_are_matched_in_any_order(text: str, lines: list[str]) -> None:
    assert [t.line for t in NAMES.meant(text).paints] == lines


def test_a_size_tells_sizes_apart() -> None:
    (found,) = NAMES.meant("fenland ultramarine 200 ml").tubes
    assert found.size_ml == 200.0


def test_a_misspelt_name_is_offered_and_never_taken() -> None:
    found = NAMES.meant("heeth green")
    assert not found.tubes and [t.name for t in found.near] == ["Heath Green"]
    with pytest.raises(UserError, match="did you mean") as refused:
        tube_meant("heeth green", NAMES)
    assert refused.value.instead == ("oakfen-fenland-acrylic-heath-green-60ml",)


def test_several_paints_are_offered_to_be_picked_from() -> None:
    with pytest.raises(UserError, match="may be 2 paints") as refused:
        tube_meant("ultramarine", NAMES)
    assert len(refused.value.problems) == 2 and "PB29" in refused.value.problems[0]


def test_what_is_nowhere_near_says_so() -> None:
    with pytest.raises(UserError, match="no tube has this id or name"):
        tube_meant("zzyzx", NAMES)


def test_a_shelf_takes_a_name_wherever_it_takes_an_id() -> None:
    shelf = Shelf(SHOP)
    assert shelf.term("rose oil").tube == SHOP[5]
    assert shelf.term("PB29").tube is None
    with pytest.raises(UserError, match="may be"):
        shelf.term("ultramarine")


@settings(max_examples=100, deadline=None)
@given(st.text(max_size=40))
def test_whatever_is_typed_gives_tubes_that_match_or_none(text: str) -> None:
    found = NAMES.meant(text)
    assert not (found.tubes and found.near)
    assert set(found.tubes) <= set(SHOP)
