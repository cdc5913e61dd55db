"""Key mixes as every seat will get them."""

from __future__ import annotations

import pytest

from tests.advice.classroom.meadow import (
    BLUE,
    CATALOGUE,
    LIST,
    ROSE,
    WHITE,
    check,
)
from tests.invented import tube
from tubewise.tubes.tube import Box


@pytest.mark.slow
def test_a_mix_with_the_wrong_rose_is_to_be_shown_with_care() -> None:
    wrong = tube("Permanent Rose", "PR112 PW6", maker="Millrace", swatch_lab=(52.0, 52.0, 24.0))
    boxes = [Box("1", (WHITE, ROSE, BLUE)), Box("2", (WHITE, wrong, BLUE)), Box("3", (WHITE, BLUE))]
    (mix,) = check(LIST, boxes, CATALOGUE).summary.mixes
    assert mix.with_care == ("2",)
    assert "demonstrate with care: seat 2" in mix.words
    assert mix.seats[2].missing == ("Rose",)
    assert "seat 3 only once they have all its paints" in mix.words


def test_an_open_form_is_shown_with_care_for_what_it_may_be() -> None:
    bare = tube("Quinacridone", "PV19", maker="Millrace")
    (mix,) = check(LIST, [Box("1", (WHITE, bare, BLUE))], CATALOGUE).summary.mixes
    assert mix.seats[0].delta_e00 > 2.0


def test_the_right_pigments_are_shown_without_special_care() -> None:
    other = (tube("Rose", "PV19 (rose)", maker="Millrace"), tube("Blue", "PB29", maker="Millrace"))
    (mix,) = check(LIST, [Box("1", (WHITE, *other))], CATALOGUE).summary.mixes
    assert mix.with_care == () and not mix.seats[0].with_care
