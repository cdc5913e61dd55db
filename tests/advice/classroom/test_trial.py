"""How one tube does in one slot."""

from __future__ import annotations

from tests.advice.classroom.meadow import (
    CATALOGUE,
    ROSE,
    check,
    seat,
)
from tests.invented import tube
from tests.refs import refs
from tubewise.paints.appearance import lab_alone
from tubewise.paints.shelf import Shelf
from tubewise.tubes.supply import Slot, SupplyList
from tubewise.tubes.tube import Box


def test_a_bare_code_needs_its_form_checked() -> None:
    got = seat(tube("Quinacridone", "PV19", maker="Millrace"))["Rose"]
    assert got.verdict == "check the form"
    assert any("PV19/beta" in r and "bluer" in r for r in got.reasons)
    assert any("PV19/gamma, it will do" in r for r in got.reasons)
    assert "PV19/gamma" in got.do
    assert got.buy is not None


def test_a_swatch_settles_the_form() -> None:

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
    slots = (Slot("Cool blue", (refs("PB15:3"),), "acrylic"),)
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


def test_a_named_tube_that_declares_nothing_is_to_be_looked_at() -> None:
    got = seat(tube("Permanent Rose", "acrylic colour 60 ml", maker="Millrace"))["Rose"]
    assert got.verdict == "check the form"
    assert "declares no pigments" in got.reasons[0] and got.decided_by == "label"
    assert "look for a pigment code" in got.do


def test_a_label_that_its_swatch_contradicts_is_not_believed() -> None:
    odd = tube("Lemon", "PB29", maker="Millrace", swatch_lab=(85.0, -5.0, 80.0))
    got = seat(odd)["Blue"]
    assert got.verdict == "check the form"
    assert "contradict each other" in got.reasons[0]


def test_a_bare_code_that_needs_a_suffix_is_to_be_checked() -> None:
    slots = (Slot("Ruby", (refs("PR57:1"),)),)
    (one,) = check(SupplyList("R", slots, ()), [Box("1", (tube("Ruby", "PR57"),))], ()).seats
    assert one.slots[0].verdict == "check the form"


def test_oil_does_not_fill_an_acrylic_slot() -> None:
    got = seat(tube("Permanent Rose", "PV19 (rose)", medium="oil"))["Rose"]
    assert got.verdict == "missing"
    assert any("do not mix" in r for r in got.reasons)


def test_a_swatch_that_agrees_with_its_label_leaves_nothing_to_call() -> None:
    lab = lab_alone(Shelf().pigment("PG7"))[0]
    swatch = (float(lab[0]) + 1.0, float(lab[1]), float(lab[2]))
    slots = (Slot("Green", (refs("PG7"),), "acrylic"),)
    box = Box("1", (tube("Phthalo Green", "PG7", maker="Millrace", swatch_lab=swatch),))
    got = check(SupplyList("G", slots, ()), [box], CATALOGUE).seats[0].slots[0]
    assert got.verdict == "right pigment"
    assert not got.close_call
    assert not any("too close" in reason for reason in got.reasons)


def test_a_weak_white_with_a_swatch_is_still_the_right_pigment() -> None:
    swatch = (96.9, -0.5, 0.8)
    weak = tube("White", "PW6", line="Study", grade="student", swatch_lab=swatch, size_ml=75.0)
    got = seat(weak)["White"]
    assert got.verdict == "right pigment"
    assert not any("does not settle" in reason for reason in got.reasons)


def test_the_same_pigments_in_other_parts_are_no_contradiction_of_the_label() -> None:
    dark = tube("Spring Green", "PY3, PY74, PG7, PW6", maker="Aldmoor", swatch_lab=(38, -34, 10))
    got = seat(dark)["Spring green"]
    assert got.verdict == "check the form"
    assert got.reasons[0].startswith("it holds the same pigments in other parts")


def test_a_bare_code_leaves_little_sure() -> None:
    assert seat(tube("Quinacridone", "PV19", maker="Millrace"))["Rose"].confidence == "low"
