"""Which medium a question is asked in, and which tubes that leaves out."""

from __future__ import annotations

import pytest

from tests.invented import tube
from tubewise.advice.medium import in_one_medium, mixes_with
from tubewise.errors import UserError

WHITE = tube("Titanium White", "PW6")
BLUE = tube("Ultramarine", "PB29")
OIL = tube("Ultramarine", "PB29", medium="oil")
UNSAID = tube("Old tube", "PY3", medium="")


def test_the_medium_asked_for_decides() -> None:
    one = in_one_medium([WHITE, OIL, UNSAID], medium="oil", wanted="acrylic")
    assert (one.medium, one.tubes, one.others) == ("oil", (OIL, UNSAID), (WHITE,))


def test_else_that_of_the_wanted_tube_where_it_can_be_mixed_here() -> None:
    assert in_one_medium([WHITE, OIL], wanted="oil").tubes == (OIL,)
    assert in_one_medium([WHITE, BLUE], wanted="oil").medium == "acrylic"


def test_else_the_only_one() -> None:
    assert in_one_medium([WHITE, UNSAID]).medium == "acrylic"
    assert in_one_medium([UNSAID]).medium == ""


def test_a_mixed_box_is_asked_about_never_guessed_at() -> None:
    with pytest.raises(UserError, match=r"acrylic and oil, which do not mix; .*\(acrylic or oil\)"):
        in_one_medium([WHITE, BLUE, OIL])


def test_what_is_not_said_may_be_mixed() -> None:
    assert mixes_with("", "oil") and mixes_with("Oil", "oil") and not mixes_with("oil", "acrylic")
