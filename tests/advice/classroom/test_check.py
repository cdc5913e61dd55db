"""The class check: six verdicts, each with its reason and what to do."""

from __future__ import annotations

from tests.invented import tube
from tests.refs import parts, refs
from tubewise.advice.classroom.check import ClassCheck
from tubewise.advice.classroom.check import check as check_workshop
from tubewise.advice.classroom.slot_verdict import SlotVerdict
from tubewise.advice.classroom.workshop import Workshop
from tubewise.advice.plain import plain
from tubewise.paints.appearance import lab_alone
from tubewise.paints.shelf import Shelf
from tubewise.tubes.supply import KeyMix, Slot, SupplyList
from tubewise.tubes.tube import Box, Tube

WHITE = tube("Titanium White", "PW6")
ROSE = tube("Permanent Rose", "PV19 (rose)")
BLUE = tube("Ultramarine", "PB29")
LEMON = tube("Lemon Yellow", "PY3")
WARM = tube("Yellow Medium", "PY74")
GREEN = tube("Phthalo Green", "PG7", price=9.0)
SPRING = tube("Spring Green", "PY3, PY74, PG7, PW6", swatch_lab=(72.0, -40.0, 55.0), stock=0)
RED = tube("Cadmium Red", "PR108", price=15.0)
CATALOGUE = (WHITE, ROSE, BLUE, LEMON, WARM, GREEN, SPRING, RED)

LIST = SupplyList(
    "Meadow",
    (
        Slot("Rose", (refs("PV19/gamma"),), "acrylic", 30),
        Slot("Blue", (refs("PB29"),), "acrylic", 30),
        Slot("White", (refs("PW6"),), "acrylic", 60),
        Slot("Spring green", (refs("PY3", "PY74", "PG7", "PW6"),), "acrylic", 0),
        Slot("Cadmium red", (refs("PR108"),), "acrylic", 0),
    ),
    (KeyMix("Heather", parts(("PV19/gamma", 1), ("PB29", 1), ("PW6", 4)), "a clear violet"),),
)


def check(supply: SupplyList, boxes: list[Box], catalogue: tuple[Tube, ...]) -> ClassCheck:
    return check_workshop(Workshop(supply, boxes, catalogue))


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


def test_what_one_seat_owns_changes_nothing_for_another() -> None:
    dark = tube("Spring Green", "PY3, PY74, PG7, PW6", maker="Aldmoor", swatch_lab=(33, -34, 10))
    alone = check(LIST, [Box("1", (SPRING,))], CATALOGUE).seats[0]
    beside = check(LIST, [Box("1", (SPRING,)), Box("2", (dark,))], CATALOGUE).seats[0]
    assert alone == beside


def test_a_bare_code_that_needs_a_suffix_is_to_be_checked() -> None:
    slots = (Slot("Ruby", (refs("PR57:1"),)),)
    (one,) = check(SupplyList("R", slots, ()), [Box("1", (tube("Ruby", "PR57"),))], ()).seats
    assert one.slots[0].verdict == "check the form"


def test_small_tubes_are_bought_as_often_as_it_takes() -> None:
    small = tube("Titanium White", "PW6", size_ml=25.0, price=3.0, stock=2)
    slots = (Slot("White", (refs("PW6"),), "acrylic", 60),)
    answer = check(SupplyList("W", slots, ()), [Box("1", ())], (small,))
    (line,) = answer.summary.shopping.lines
    assert (line.count, line.cost, line.short) == (3, 9.0, 1)


def test_cautions_of_what_is_in_the_box_come_along() -> None:
    assert "cadmium" in {c.kind for c in seat(RED)["Cadmium red"].cautions}


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


def test_one_tube_for_two_slots_is_remarked() -> None:
    again = Slot("Rose again", LIST.slots[0].accept)
    twice = SupplyList("Twice", (LIST.slots[0], again), ())
    (one,) = check(twice, [Box("1", (ROSE,))], CATALOGUE).seats
    assert any("has to serve for Rose and Rose again" in r for r in one.remarks)


def test_a_swatch_that_agrees_with_its_label_leaves_nothing_to_call() -> None:
    lab = lab_alone(Shelf().pigment("PG7"))[0]
    swatch = (float(lab[0]) + 1.0, float(lab[1]), float(lab[2]))
    slots = (Slot("Green", (refs("PG7"),), "acrylic"),)
    box = Box("1", (tube("Phthalo Green", "PG7", maker="Millrace", swatch_lab=swatch),))
    got = check(SupplyList("G", slots, ()), [box], CATALOGUE).seats[0].slots[0]
    assert got.verdict == "right pigment"
    assert not got.close_call
    assert not any("too close" in reason for reason in got.reasons)


def test_a_mixture_that_hides_less_says_so() -> None:
    box = (tube("Rose", "PV19 (rose)", maker="Millrace"), LEMON, WARM)
    got = seat(*box)["Cadmium red"]
    assert got.recipe is not None
    assert any("hides less" in reason for reason in got.reasons)


def test_a_seat_gathers_its_cautions_with_their_slots() -> None:
    (one,) = run(RED).seats
    assert any(c.startswith("Cadmium red: ") and "safety data sheet" in c for c in one.cautions)


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


def test_a_tube_whose_swatch_contradicts_it_is_not_bought_while_others_are_to_be_had() -> None:
    odd = tube("Cheap Blue", "PB29", maker="Millrace", price=1.0, swatch_lab=(85.0, -5.0, 80.0))
    slots = (Slot("Blue", (refs("PB29"),), "acrylic"),)
    asked = SupplyList("Blue", slots, ())
    (one,) = check(asked, [Box("1", ())], (odd, BLUE)).seats
    assert one.slots[0].buy is not None and one.slots[0].buy.title == BLUE.title


def test_the_right_pigments_are_shown_without_special_care() -> None:
    other = (tube("Rose", "PV19 (rose)", maker="Millrace"), tube("Blue", "PB29", maker="Millrace"))
    (mix,) = check(LIST, [Box("1", (WHITE, *other))], CATALOGUE).summary.mixes
    assert mix.with_care == () and not mix.seats[0].with_care
