"""The class check: six verdicts, each with its reason and what to do."""

from __future__ import annotations

import pytest

from tests.advice.classroom.meadow import (
    BLUE,
    CATALOGUE,
    GREEN,
    LEMON,
    LIST,
    RED,
    ROSE,
    SPRING,
    WARM,
    WHITE,
    check,
    run,
    seat,
)
from tests.invented import tube
from tubewise.advice.classroom.check import check as check_workshop
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.plain import plain
from tubewise.tubes.tube import Box


def test_a_box_with_every_pigment_is_ready() -> None:
    answer = run(WHITE, ROSE, BLUE, SPRING, RED)
    assert {s.verdict for s in answer.seats[0].slots} == {"right pigment"}
    assert answer.summary.ready == ("1",)
    assert answer.summary.shopping.lines == ()
    (mix,) = answer.summary.mixes
    assert mix.seats[0].delta_e00 < 2.0 and mix.with_care == ()


def test_a_tube_of_another_medium_is_named_instead_of_an_empty_box() -> None:
    oil = tube("Meadow Blue", BLUE.label, medium="oil")
    (blue,) = (s for s in run(WHITE, oil).seats[0].slots if BLUE.label in s.reasons[0])
    assert blue.verdict == "missing"
    words = " ".join(blue.reasons)
    assert "no acrylic paint in the box holds" in words
    assert f"{oil.title} is oil; the list asks for acrylic, and they do not mix" in words


@pytest.mark.slow
def test_what_one_seat_owns_changes_nothing_for_another() -> None:
    dark = tube("Spring Green", "PY3, PY74, PG7, PW6", maker="Aldmoor", swatch_lab=(33, -34, 10))
    alone = check(LIST, [Box("1", (SPRING,))], CATALOGUE).seats[0]
    beside = check(LIST, [Box("1", (SPRING,)), Box("2", (dark,))], CATALOGUE).seats[0]
    assert alone == beside


@pytest.mark.slow
def test_a_sold_out_green_is_mixed_from_its_own_pigments() -> None:
    got = seat(WHITE, LEMON, WARM, GREEN)["Spring green"]
    assert got.verdict == "mix it"
    assert got.recipe is not None and not got.close_call
    assert got.recipe.worst_delta_e00 < 5.0
    parts = {p.title: p.parts for p in got.recipe.parts}
    # The strong green is the smallest part.
    assert parts[GREEN.title] == min(parts.values())


def test_a_small_tube_is_said_and_two_small_ones_add_up() -> None:
    small = tube("Titanium White", "PW6", size_ml=40.0)
    assert any("may run out" in r for r in seat(small)["White"].reasons)
    other = tube("White", "PW6", size_ml=40.0)
    assert not any("may run out" in r for r in seat(small, other)["White"].reasons)


def test_a_sparse_row_is_completed_from_the_catalogue() -> None:
    got = seat(tube("Permanent Rose", "", size_ml=None, price=None, stock=None, medium=""))["Rose"]
    assert got.verdict == "right pigment"


def test_progress_is_told_seat_by_seat() -> None:
    told: list[tuple[int, int]] = []
    workshop = Workshop(LIST, [Box("1", ()), Box("2", ())], CATALOGUE)
    check_workshop(workshop, lambda done, every: told.append((done, every)))
    assert told == [(1, 2), (2, 2)]


def test_it_shows_itself_and_has_the_contracts_keys() -> None:
    answer = run(ROSE)
    assert "Seat 1" in answer._repr_html_()
    slot = plain(answer)["seats"][0]["slots"][0]
    assert {"slot", "verdict", "tube", "reasons", "recipe", "buy"} <= set(slot)


@pytest.mark.slow
def test_a_mixture_that_hides_less_says_so() -> None:
    box = (tube("Rose", "PV19 (rose)", maker="Millrace"), LEMON, WARM)
    got = seat(*box)["Cadmium red"]
    assert got.recipe is not None
    assert any("hides less" in reason for reason in got.reasons)
