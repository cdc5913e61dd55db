"""The class check: six verdicts, each with its reason and what to do."""

from __future__ import annotations

import pytest

from tests.advice.conftest import tube
from tubewise.advice.check import ClassCheck, check
from tubewise.advice.plain import plain
from tubewise.advice.slot_verdict import SlotVerdict
from tubewise.tubes.supply import KeyMix, Slot, SupplyList
from tubewise.tubes.tube import Box, Tube

WHITE = tube("Titanium White", "PW6")
ROSE = tube("Permanent Rose", "PV19 (rose)")
BLUE = tube("Ultramarine", "PB29")
LEMON = tube("Lemon Yellow", "PY3")
WARM = tube("Yellow Medium", "PY74")
GREEN = tube("Phthalo Green", "PG7", price=9.0)
SPRING = tube("Spring Green", "PY3, PY74, PG7, PW6", swatch_lab=(76.0, -38.0, 60.0), stock=0)
RED = tube("Cadmium Red", "PR108", price=15.0)
CATALOGUE = (WHITE, ROSE, BLUE, LEMON, WARM, GREEN, SPRING, RED)

LIST = SupplyList(
    "Meadow",
    (
        Slot("Rose", (frozenset({"PV19/gamma"}),), "acrylic", 30),
        Slot("Blue", (frozenset({"PB29"}),), "acrylic", 30),
        Slot("White", (frozenset({"PW6"}),), "acrylic", 60),
        Slot("Spring green", (frozenset({"PY3", "PY74", "PG7", "PW6"}),), "acrylic", 0),
        Slot("Cadmium red", (frozenset({"PR108"}),), "acrylic", 0),
    ),
    (KeyMix("Heather", (("PV19/gamma", 1), ("PB29", 1), ("PW6", 4)), "a clear violet"),),
)


def seat(*tubes: Tube) -> dict[str, SlotVerdict]:
    (one,) = run(*tubes).seats
    return {slot.slot: slot for slot in one.slots}


def run(*tubes: Tube) -> ClassCheck:
    return check(LIST, [Box("1", tubes)], CATALOGUE)


def test_a_box_with_every_pigment_is_ready() -> None:
    answer = run(WHITE, ROSE, BLUE, SPRING, RED)
    assert {s.verdict for s in answer.seats[0].slots} == {"right pigment"}
    assert answer.summary.ready == ("1",)
    assert answer.summary.shopping.lines == ()
    (mix,) = answer.summary.mixes
    assert mix.seats[0].delta_e00 < 2.0 and mix.with_care == ()


def test_an_empty_box_misses_everything_and_the_list_prices_it() -> None:
    answer = run()
    assert {s.verdict for s in answer.seats[0].slots} == {"missing"}
    lines = {line.buy.title: line for line in answer.summary.shopping.lines}
    # The convenience green is out of stock: said, not bought.
    assert len(lines) == 4
    assert answer.summary.shopping.totals == (("EUR", 8.0 + 8.0 + 8.0 + 15.0),)
    spring = answer.seats[0].slots[3]
    assert spring.buy is None and "none in stock" in spring.do


def test_a_bare_code_needs_its_form_checked() -> None:
    got = seat(tube("Quinacridone", "PV19", maker="Millrace"))["Rose"]
    assert got.verdict == "check the form"
    assert any("PV19/beta" in r and "bluer" in r for r in got.reasons)
    assert any("PV19/gamma, it will do" in r for r in got.reasons)
    assert "PV19/gamma" in got.do
    assert got.buy is not None


def test_a_swatch_settles_the_form() -> None:
    from tubewise.advice.behaviour import lab_alone
    from tubewise.advice.shelf import Shelf

    lab = lab_alone(Shelf().pigment("PV19/gamma"))[0]
    swatch = (float(lab[0]), float(lab[1]), float(lab[2]))
    got = seat(tube("Quinacridone", "PV19", maker="Millrace", swatch_lab=swatch))["Rose"]
    assert got.verdict == "right pigment"
    assert any("the swatch shows it" in r for r in got.reasons)


def test_a_misread_code_is_to_be_looked_at_again() -> None:
    got = seat(tube("Chinacridon", "Pigment: PVI9", maker="Millrace"))["Rose"]
    assert got.verdict == "check the form"
    assert "look at the tube again" in got.do and "PV19" in got.do


def test_another_pigment_that_behaves_alike_stands_in() -> None:
    slots = (Slot("Cool blue", (frozenset({"PB15:3"}),), "acrylic"),)
    held = tube("Cyan", "PB15:4", maker="Millrace")
    (one,) = check(SupplyList("Blue", slots, ()), [Box("1", (held,))], CATALOGUE).seats
    got = one.slots[0]
    assert got.verdict == "stand-in"
    assert any("other pigments: PB15:4 for PB15:3" in r for r in got.reasons)


def test_student_grade_of_the_right_pigment_is_right_and_tells_the_parts() -> None:
    got = seat(tube("Ultramarine", "PB29", line="Study", grade="student"))["Blue"]
    assert got.verdict == "right pigment"
    assert "2 parts do the work of 1" in got.do
    assert any("same pigments" in r for r in got.reasons)


def test_one_name_with_other_pigments_is_wrong_behind_the_name() -> None:
    got = seat(tube("Permanent Rose", "PR209", maker="Millrace"))["Rose"]
    assert got.verdict == "wrong pigment behind the name"
    assert any("PR209" in r for r in got.reasons)
    assert got.buy is not None and got.buy.title == ROSE.title


def test_a_cadmium_red_without_cadmium_is_wrong_behind_the_name() -> None:
    got = seat(tube("Cadmium Red", "PR170 PW6", maker="Millrace"))["Cadmium red"]
    assert got.verdict == "wrong pigment behind the name"


def test_a_named_tube_that_declares_nothing_is_not_counted_on() -> None:
    got = seat(tube("Permanent Rose", "acrylic colour 60 ml", maker="Millrace"))["Rose"]
    assert got.verdict == "wrong pigment behind the name"
    assert "declares no pigments" in got.reasons[0]


def test_a_sold_out_green_is_mixed_from_its_own_pigments() -> None:
    got = seat(WHITE, LEMON, WARM, GREEN)["Spring green"]
    assert got.verdict == "mix it"
    assert got.recipe is not None and not got.close_call
    assert got.recipe.worst_delta_e00 < 5.0
    parts = {p.title: p.parts for p in got.recipe.parts}
    # The strong green is the smallest part.
    assert parts[GREEN.title] == min(parts.values())


def test_oil_does_not_fill_an_acrylic_slot() -> None:
    got = seat(tube("Permanent Rose", "PV19 (rose)", medium="oil"))["Rose"]
    assert got.verdict == "missing"
    assert any("do not mix" in r for r in got.reasons)


def test_a_small_tube_is_said_and_two_small_ones_add_up() -> None:
    small = tube("Titanium White", "PW6", size_ml=40.0)
    assert any("may run out" in r for r in seat(small)["White"].reasons)
    other = tube("White", "PW6", size_ml=40.0)
    assert not any("may run out" in r for r in seat(small, other)["White"].reasons)


def test_a_sparse_row_is_completed_from_the_catalogue() -> None:
    got = seat(tube("Permanent Rose", "", size_ml=None, price=None, stock=None, medium=""))["Rose"]
    assert got.verdict == "right pigment"


def test_a_mix_with_the_wrong_rose_is_to_be_shown_with_care() -> None:
    wrong = tube("Permanent Rose", "PR112 PW6", maker="Millrace", swatch_lab=(52.0, 52.0, 24.0))
    answer = check(LIST, [Box("1", (WHITE, ROSE, BLUE)), Box("2", (WHITE, wrong, BLUE))], CATALOGUE)
    (mix,) = answer.summary.mixes
    assert mix.seats[0].delta_e00 < mix.seats[1].delta_e00 or "Rose" in mix.seats[1].missing


def test_progress_is_told_seat_by_seat() -> None:
    told: list[tuple[int, int]] = []
    check(LIST, [Box("1", ()), Box("2", ())], CATALOGUE, progress=lambda d, n: told.append((d, n)))
    assert told == [(1, 2), (2, 2)]


def test_it_shows_itself_and_has_the_contracts_keys() -> None:
    answer = run(ROSE)
    assert "Seat 1" in answer._repr_html_()
    slot = plain(answer)["seats"][0]["slots"][0]
    assert {"slot", "verdict", "tube", "reasons", "recipe", "buy"} <= set(slot)


@pytest.mark.parametrize("serves", ["Rose", "Red"])
def test_one_tube_for_two_slots_is_remarked(serves: str) -> None:
    twice = SupplyList(
        "Twice", (*LIST.slots[:1], Slot(serves + " again", LIST.slots[0].accept)), ()
    )
    (one,) = check(twice, [Box("1", (ROSE,))], CATALOGUE).seats
    assert any("has to serve for" in r for r in one.remarks)
