"""Boxes as people write them, understood line by line; nothing dropped or guessed in silence."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.invented import tube
from tests.tubes.files_for_tests import written
from tubewise.tubes.box_lines import BoxReader, Line
from tubewise.tubes.catalogue import read_boxes
from tubewise.tubes.cell_of_tubes import tube_of_words, tubes_in
from tubewise.tubes.seat_title import seat_title
from tubewise.tubes.sets import is_set
from tubewise.tubes.tube import Box, Tube

CORPUS = Path(__file__).parent / "data" / "box_lines.txt"
ALONE = BoxReader(())


def corpus() -> list[tuple[str, str]]:
    lines = CORPUS.read_text(encoding="utf-8").splitlines()
    return [
        (line.partition(" => ")[0], line.partition(" => ")[2])
        for line in lines
        if line and not line.startswith("#")
    ]


def test_the_corpus_is_large_enough() -> None:
    assert len({line for line, _ in corpus()}) >= 150


@pytest.mark.parametrize(("line", "meaning"), corpus())
def test_a_line_of_a_box(line: str, meaning: str) -> None:
    what, _, beside = (part.strip() for part in meaning.partition("|"))
    read = ALONE.line(tube_of_words(line))
    (own,) = read.tubes
    if what == "set":
        assert is_set(own) and "set" in read.doubt
    elif what == "?":
        assert "not known" in read.doubt and not own.refs
    elif what.startswith("~"):
        assert what[1:] in read.doubt and "look at the tube" in read.doubt and not own.refs
    else:
        assert " ".join(ref.code for ref in own.refs) == what and not read.doubt
    for word in beside.split():
        assert word in (own.medium, f"{own.size_ml:g}" if own.size_ml else "")


SHOP = (
    tube("Ultramarine Blue", "PB29"),
    tube("Lemon Yellow", "PY3"),
    tube("Lemon Yellow", "PY184", line="Dabs", grade="student"),
    tube("Heath Green", "PG7, PY42", extra={"set": "Moorland set; Big box"}),
    tube("Peat", "PBr7", extra={"set": "Moorland set"}),
)


def line_of(words: str) -> Line:
    return BoxReader(SHOP).line(tube_of_words(words))


def test_a_product_is_known_by_maker_line_and_name_in_any_order() -> None:
    for words in ("Oakfen ultramarine blue", "ultramarine blue fenland", "Fenland Heath Green"):
        read = line_of(words)
        assert read.tubes[0].refs and "taken for Oakfen Fenland" in read.doubt


def test_how_likely_counts_the_tubes_of_that_name() -> None:
    doubt = line_of("lemon yelow").doubt
    assert "“lemon yelow” read as lemon yellow" in doubt and "in 1 of 2 tubes" in doubt
    assert "PY3" in doubt and "PY184" in doubt


def test_a_set_that_the_catalogue_knows_is_expanded() -> None:
    read = line_of("Moorland set")
    assert {t.name for t in read.tubes} == {"Heath Green", "Peat"}
    assert "2 tubes of it" in read.doubt


def test_the_same_as_another_seat() -> None:
    own = Box("Seat 3", (tube_of_words("PB29"), tube_of_words("PW6")))
    for words in (
        "same as seat 3",
        "wie Seat 3",
        "comme seat 3",
        "igual que seat 3",
        "come Seat 3",
    ):
        first, second = ALONE.boxes([own, Box("5", (tube_of_words(words),))])
        assert second.box.tubes == first.box.tubes and "box of Seat 3" in second.lines[0].doubt


def test_ditto_means_the_seat_above_and_nobody_says_so() -> None:
    own = Box("1", (tube_of_words("PB29"),))
    assert ALONE.boxes([own, Box("2", (tube_of_words("ditto"),))])[1].box.tubes == own.tubes
    (alone,) = ALONE.boxes([Box("2", (tube_of_words("same as Wren"),))])
    assert alone.box.tubes == () and "write its tubes" in alone.lines[0].doubt


@pytest.mark.parametrize(
    ("name", "label"),
    [("PB29", ""), ("Ultramarine PB29", ""), ("", "PB29"), ("Ultramarine", "PB29 37 ml")],
)
def test_a_code_counts_in_either_column(name: str, label: str) -> None:
    read = ALONE.line(Tube(name=name, label=label))
    assert read.tubes[0].refs == ("PB29/red-shade",) and not read.doubt


def test_a_name_in_the_label_s_column_is_a_name() -> None:
    read = ALONE.line(Tube(label="Lemon yellow"))
    assert read.tubes[0].name == "Lemon yellow" and "PY3" in read.doubt


@pytest.mark.parametrize(
    ("cell", "many"),
    [
        ("Ultramarine PB29\nlemon yelow\nTW", 3),
        ("1. PB29\n2. PY3\n\n3) PW6", 3),
        ("- Ultramarine\n- Rose", 2),
        ("PB29; PV19; PW6", 3),
        ("PB29, PV19 and PW6", 3),
        ("Ultramarin, Zitronengelb und Weiß", 3),
        ("Sap green PG7, PY42\nPB29", 2),
        ("", 0),
    ],
)
def test_a_cell_of_several_tubes(cell: str, many: int) -> None:
    assert len(tubes_in(cell)) == many


def test_a_form_s_export_has_a_person_a_row(tmp_path: Path) -> None:
    sheet = (
        "Timestamp,Your name,Which tubes do you own? (one per line)\n"
        '1,Seat 1,"Ultramarine PB29\nlemon yelow"\n2,Seat 2,"PB29, PW6"\n3,Seat 3,\n'
    )
    boxes = read_boxes(written(tmp_path, sheet))
    assert [(box.seat, len(box.tubes)) for box in boxes] == [
        ("Seat 1", 2),
        ("Seat 2", 2),
        ("Seat 3", 0),
    ]


def test_a_cell_a_tube_is_read_too(tmp_path: Path) -> None:
    sheet = "Platz,Farbe 1,Farbe 2,Farbe 3\n1,PB29,Zitronengelb PY3,\n2,PV19,,PW6\n"
    boxes = read_boxes(written(tmp_path, sheet))
    assert [[t.label for t in box.tubes] for box in boxes] == [
        ["PB29", "Zitronengelb PY3"],
        ["PV19", "PW6"],
    ]


def test_a_tube_given_twice_with_another_remark_counts_once(tmp_path: Path) -> None:
    sheet = "seat,name,label,note\n1,Rose,PV19,new\n1,Rose,PV19,half empty\n"
    (box,) = read_boxes(written(tmp_path, sheet))
    assert len(box.tubes) == 1


@settings(max_examples=150, deadline=None)
@given(st.text(max_size=60), st.text(max_size=60))
def test_whatever_is_written_gives_a_tube_or_says_why_not(name: str, label: str) -> None:
    read = BoxReader(SHOP).boxes([Box("1", (Tube(name=name, label=label),))])[0]
    assert len(read.lines) == 1
    line = read.lines[0]
    assert line.tubes or line.doubt
    assert all(t.refs or t.label.strip() or t.doubt for t in line.tubes)


def test_nobody_s_tubes_are_no_tube() -> None:
    for cell in ("none", "keine", "rien", "nada", "niente", "-", "n/a"):
        assert tubes_in(cell) == []


def test_cells_beyond_the_heading_of_tubes_are_tubes(tmp_path: Path) -> None:
    boxes = read_boxes(
        written(tmp_path, "Name;Meine Farben\nPlatz 1;PB29; PY3 ;PW6\nPlatz 2;PV19\n")
    )
    assert [(box.seat, len(box.tubes)) for box in boxes] == [("Platz 1", 3), ("Platz 2", 1)]


def test_a_column_of_tubes_under_any_heading_is_found(tmp_path: Path) -> None:
    boxes = read_boxes(written(tmp_path, "seat,what,notes\n1,ochre,old\n1,PV 23,\n2,white,\n"))
    assert [[t.name for t in box.tubes] for box in boxes] == [["ochre", "PV 23"], ["white"]]


def test_words_that_lead_nowhere_stay_as_written() -> None:
    assert ALONE.line(tube_of_words("my Plotz green")).tubes[0].name == "my Plotz green"


def test_a_seat_that_is_called_something_keeps_its_name() -> None:
    assert [seat_title(s) for s in ("3", "Platz 3", "seat 3")] == ["Seat 3", "Platz 3", "seat 3"]
