"""What a teacher writes to one seat before class."""

from __future__ import annotations

from tests.advice.classroom.meadow import BLUE, GREEN, LEMON, RED, ROSE, SPRING, WARM, WHITE, run
from tests.invented import tube


def message(*box: object) -> str:
    (standing,) = run(*box).summary.standings  # type: ignore[arg-type]
    return standing.message


def test_a_full_box_gets_no_letter() -> None:
    assert message(WHITE, ROSE, BLUE, RED, SPRING) == ""


def test_an_empty_box_is_told_in_a_line() -> None:
    assert message() == "bring or buy every paint of the list"


def test_what_is_lacking_is_named_by_its_pigment() -> None:
    assert message(WHITE, BLUE, RED, SPRING) == "buy Rose (PV19/gamma)"


def test_a_wrong_tube_is_said_to_be_one() -> None:
    wrong = tube("Permanent Rose", "PR209", maker="Millrace")
    assert message(WHITE, wrong, BLUE, RED, SPRING) == "buy Rose (PV19/gamma; yours is PR209)"


def test_an_open_form_is_to_be_looked_at_and_a_mixture_to_be_made() -> None:
    bare = tube("Quinacridone", "PV19")
    words = message(WHITE, bare, BLUE, RED, LEMON, WARM, GREEN)
    assert words == "look at Rose (PV19/gamma?); mix Spring green"


def test_too_little_of_the_right_paint() -> None:
    small = tube("Titanium White", "PW6", size_ml=20.0)
    assert message(small, ROSE, BLUE, RED, SPRING) == "bring more White"
