"""Slots, mixes and tubes as a person types them, a thing a line."""

from __future__ import annotations

import pytest

from tubewise.errors import UserError
from tubewise.tubes.tube import Box, Tube
from tubewise.tubes.typed import TypedTubes, as_typed, count_lines, typed_mixes, typed_slots

ROSE = Tube(
    maker="Oakfen", medium="acrylic", name="Permanent Rose", label="PV19 gamma", size_ml=60.0
)


def test_a_slot_is_a_name_and_what_it_accepts() -> None:
    rose, blue = typed_slots("Rose: PV19/gamma | PR122\n\n Blue : PB15:3 \n", "acrylic")
    assert rose.slot == "Rose" and rose.medium == "acrylic"
    assert rose.accept == (frozenset({"PV19/gamma"}), frozenset({"PR122"}))
    assert blue.slot == "Blue" and blue.accept == (frozenset({"PB15:3"}),)


def test_a_mix_is_a_name_and_its_parts() -> None:
    assert typed_mixes("Dusk: PV19/gamma 1 + PW6 4")[0].parts == (("PV19/gamma", 1), ("PW6", 4))


@pytest.mark.parametrize("line", ["Rose", "Rose:", ": PV19", "Rose: PZ19"])
def test_a_line_nobody_can_read_is_named(line: str) -> None:
    with pytest.raises(UserError) as raised:
        typed_slots(f"Blue: PB29\n{line}")
    assert "line 2" in raised.value.where


def test_a_typed_tube_is_name_and_label_or_as_it_reads() -> None:
    read = TypedTubes((ROSE,)).tube
    assert (read("Mystery | PB29").name, read("Mystery | PB29").label) == ("Mystery", "PB29")
    assert read("Sea Blue (PB29)").name == "Sea Blue"
    assert read("Sea Blue (PB29)").pigments == ("PB29",)
    assert read("no code at all").refs == ()


def test_a_line_that_names_a_known_tube_means_it() -> None:
    read = TypedTubes((ROSE,)).tube
    for line in (ROSE.id, "oakfen permanent rose", "Oakfen  Permanent Rose | PV19 gamma"):
        assert read(line) is ROSE
    assert read("Oakfen Permanent Rose | PR122") is not ROSE


def test_a_box_keeps_lines_that_were_left_alone_and_each_tube_once() -> None:
    own = Tube(name="Mystery", label="PB29", size_ml=37.0)
    text = f"{as_typed(own)}\n{ROSE.id}\n{ROSE.id}\n"
    box = TypedTubes((ROSE,)).box("1", text, Box("1", (own,)))
    assert box == Box("1", (own, ROSE))
    assert count_lines(text) == 3
