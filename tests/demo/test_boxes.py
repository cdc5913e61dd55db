"""The traps of the trade that the demo's boxes and workshop promise (demo/README.md)."""

from __future__ import annotations

from collections import Counter

import pytest

from tests.demo.demo_tubes import SPRING_GREENS, codes, in_box, warned
from tubewise.tubes.supply import SupplyList
from tubewise.tubes.tube import Box, Tube

# ---------------------------------------------------------------- the workshop


def test_ten_slots_and_six_key_mixes_in_acrylic(workshop: SupplyList) -> None:
    assert len(workshop.slots) == 10
    assert len(workshop.mixes) == 6
    assert {slot.medium for slot in workshop.slots} == {"acrylic"}


def test_every_pigment_of_a_key_mix_is_asked_for(workshop: SupplyList) -> None:
    asked = {ref for slot in workshop.slots for refs in slot.accept for ref in refs}
    assert {ref for mix in workshop.mixes for ref, _ in mix.parts} <= asked


def test_every_slot_but_the_mixed_green_can_be_bought(
    shop: list[Tube], workshop: SupplyList
) -> None:
    for slot in workshop.slots:
        on_sale = [
            t
            for t in shop
            if t.stock
            and t.medium == slot.medium
            and (t.size_ml or 0) >= slot.min_ml
            and any({r.partition("/")[0] for r in refs} == set(codes(t)) for refs in slot.accept)
        ]
        assert bool(on_sale) == (slot.slot != "Spring green"), slot.slot


# ---------------------------------------------------------------- the boxes


def test_twelve_numbered_seats_of_six_to_fourteen_tubes(boxes: dict[str, Box]) -> None:
    assert list(boxes) == [str(n) for n in range(1, 13)]
    assert all(6 <= len(box.tubes) <= 14 for box in boxes.values())


@pytest.mark.parametrize("seat", ["1", "2", "12"])
def test_three_boxes_hold_every_code_of_the_list(
    boxes: dict[str, Box], workshop: SupplyList, seat: str
) -> None:
    held = [set(codes(t)) for t in boxes[seat].tubes if t.medium == "acrylic"]
    for slot in workshop.slots:
        wanted = [{ref.partition("/")[0] for ref in refs} for refs in slot.accept]
        whole = any(refs == has for refs in wanted for has in held)
        from_parts = any(refs <= set().union(*held) for refs in wanted)
        assert whole or (slot.slot == "Spring green" and from_parts), slot.slot


def test_seat_3_has_two_bare_codes_and_the_parts_of_the_green(boxes: dict[str, Box]) -> None:
    box = boxes["3"]
    assert "needs-form" in warned(in_box(box, "Chinacridon"))
    assert "needs-suffix" in warned(in_box(box, "Phthaloblau"))
    assert SPRING_GREENS[0] <= {code for tube in box.tubes for code in codes(tube)}
    assert not any(set(codes(tube)) in SPRING_GREENS for tube in box.tubes)


def test_seat_4_has_two_names_that_promise_other_pigments(boxes: dict[str, Box]) -> None:
    assert codes(in_box(boxes["4"], "Permanent Rose")) == ("PR209",)
    assert codes(in_box(boxes["4"], "Cadmium Red")) == ("PR112",)


def test_seat_5_is_all_student_paint_with_a_better_tube_than_its_name(
    boxes: dict[str, Box],
) -> None:
    box = boxes["5"]
    assert {tube.grade for tube in box.tubes} == {"student"}
    assert codes(in_box(box, "Permanent Rose")) == ("PR146", "PW6")
    assert codes(in_box(box, "Magenta")) == ("PR122",)


def test_seat_6_holds_near_pigments_instead_of_the_asked_ones(boxes: dict[str, Box]) -> None:
    held = {code for tube in boxes["6"].tubes for code in codes(tube)}
    assert {"PR122", "PB15:1", "PG36", "PY175", "PR254"} <= held
    assert not held & {"PV19", "PB15:3", "PG7", "PY3", "PR108"}


def test_seat_7_lacks_most_and_has_too_little_white(
    boxes: dict[str, Box], workshop: SupplyList
) -> None:
    box = boxes["7"]
    held = {code for tube in box.tubes for code in codes(tube)}
    assert not held & {"PV23", "PB15:3", "PG7"}
    white = in_box(box, "Titanium White")
    asked = next(slot.min_ml for slot in workshop.slots if slot.slot == "Titanium white")
    assert white.size_ml is not None and white.size_ml < asked
    assert in_box(box, "Quinacridone Violet").refs == ("PV19/beta",)


def test_seat_8_paints_in_oil(boxes: dict[str, Box]) -> None:
    media = Counter(tube.medium for tube in boxes["8"].tubes)
    assert media == {"oil": 10, "acrylic": 1}


def test_seat_9_writes_names_and_no_labels(boxes: dict[str, Box]) -> None:
    assert not any(tube.label for tube in boxes["9"].tubes)
    assert any(not tube.maker for tube in boxes["9"].tubes)


def test_seat_10_copies_labels_with_slips(boxes: dict[str, Box]) -> None:
    box = boxes["10"]
    assert "likely-misread" in warned(in_box(box, "Permanent Rose"))
    assert "likely-misread" in warned(in_box(box, "Bleu outremer"))
    assert "code-number-disagree" in warned(in_box(box, "Cadmium Red"))
    assert codes(in_box(box, "Phtalo Blue (Green Shade)")) == ("PB15:3",)


def test_seat_11_has_a_false_cadmium_red_and_a_green_the_list_accepts(
    boxes: dict[str, Box],
) -> None:
    box = boxes["11"]
    assert "misleading-name" in warned(in_box(box, "Cadmium Red"))
    assert set(codes(in_box(box, "Vert tilleul"))) == SPRING_GREENS[1]


def test_seat_12_must_choose_among_three_roses(boxes: dict[str, Box]) -> None:
    roses = [t.refs for t in boxes["12"].tubes if codes(t) in (("PR209",), ("PV19",))]
    assert roses == [("PR209",), ("PV19/beta",), ("PV19/gamma",)]


def test_most_box_rows_are_products_of_the_shop(shop: list[Tube], boxes: dict[str, Box]) -> None:
    sold = {tube.paint for tube in shop}
    rows = [tube for box in boxes.values() for tube in box.tubes]
    assert sum(tube.paint in sold for tube in rows) > 0.85 * len(rows)
