from __future__ import annotations

from dataclasses import replace

from tubewise.tubes.tube import Box, Tube, box_of


def test_ids_are_made_of_a_products_own_words() -> None:
    plus = Tube(maker="Grünhag", line="Ö+", medium="oil", name="Écarlate n° 2", size_ml=37.5)
    assert plus.id == "grunhag-o-plus-oil-ecarlate-n-2-37-5ml"
    assert Tube(name="朱").id == "朱"
    assert Tube(name="!").id == "unnamed"


def test_a_tube_reads_its_own_label() -> None:
    tube = Tube(maker="Ostrel", line="Fen", name="Rose", label="PV19 (gamma), PW6")
    assert [ref.partition("/")[0] for ref in tube.refs] == ["PV19", "PW6"]
    assert tube.reading is tube.reading
    assert tube.title == "Ostrel Fen Rose"
    assert Tube(id="x", label="PV19").title == "PV19"
    assert hash(tube) == hash(replace(tube))
    assert replace(tube, size_ml=200.0).paint == tube.paint


def test_the_box_of_a_seat_is_found_however_the_seat_is_written() -> None:
    own = Box("Seat A", ())
    assert box_of([Box("B", ()), own], " seat  a ") is own
    assert box_of([own], "C") is None
