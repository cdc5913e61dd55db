"""A box off photographs: a line a tube, settled by a person, other seats left alone."""

from __future__ import annotations

from pathlib import Path

import pytest

from tubewise.advice.counter.label import read_label
from tubewise.advice.photographs.box import BoxLine, photographs_in, settle, write_seat
from tubewise.advice.photographs.settling import medium_of, settled_text, size_of
from tubewise.errors import UserError
from tubewise.labels.photo.photo_reading import Doubt
from tubewise.tubes.catalogue import read_boxes, write_boxes
from tubewise.tubes.tube import Box, Tube

TEXT = "Oakfen\nRowan red\nPigments: PRl12, PW6\n37 ml\n"


def line(*doubts: Doubt) -> BoxLine:
    return BoxLine(photograph="a.jpg", place=2, text=TEXT, name="Rowan red", doubts=doubts)


def doubt(stretch: str, *candidates: str) -> Doubt:
    start = TEXT.index(stretch)
    return Doubt(
        kind="sign",
        message=f"“{stretch}” is doubtful.",
        span=(start, start + len(stretch)),
        corners=(),
        candidates=candidates,
    )


def test_what_a_person_says_goes_into_the_text() -> None:
    settled = settle(line(doubt("PRl12", "PR112")), lambda *_: "PR112")
    assert settled.doubts == () and settled.tube().pigments == ("PR112", "PW6")


def test_what_nobody_settles_stands_in_the_file() -> None:
    tube = settle(line(doubt("PRl12", "PR112")), lambda *_: "").tube()
    assert tube.extra["to settle"] == "“PRl12”: PR112?"
    assert tube.pigments == ("PW6",)  # the doubtful code is not guessed
    assert tube.extra["photograph"] == "a.jpg, tube 2"


def test_an_open_doubt_moves_with_the_text_before_it() -> None:
    both = line(doubt("PRl12", "PR112"), doubt("PW6", "PW6", "PW5"))
    half = settle(both, lambda _, d: "P.R. 112" if "PR112" in d.candidates else "")
    [still] = half.doubts
    assert still.span is not None and half.text[slice(*still.span)] == "PW6"


def test_a_doubt_without_a_place_adds_a_line() -> None:
    nothing = Doubt(kind="nothing", message="No code was found.", span=None, corners=())
    assert "PY42" in settle(line(nothing), lambda *_: "PY42").tube().pigments


def test_stretches_are_put_in_from_the_end() -> None:
    assert settled_text("abc def", [((0, 3), "x"), ((4, 7), "long")]) == "x long"


def test_size_and_medium_are_taken_where_the_label_states_them_once() -> None:
    assert size_of("60 ml e LOT 2") == 60 and size_of("37ml, 60ml") is None
    assert size_of("nothing") is None
    assert medium_of("Künstler-Acrylfarbe") == "acrylic"
    assert medium_of("Artists' oil colour") == "oil" and medium_of("Rowan red") == ""


def test_other_seats_of_the_file_stay(tmp_path: Path) -> None:
    path = tmp_path / "boxes.csv"
    write_boxes(path, [Box("3", (Tube(name="Blue", label="PB29"),)), Box("4", ())])
    write_seat(path, "4", [line()])
    boxes = {box.seat: box for box in read_boxes(path)}
    assert boxes["3"].tubes[0].label == "PB29"
    assert boxes["4"].tubes[0].size_ml == 37 and boxes["4"].tubes[0].name == "Rowan red"


def test_maker_and_line_are_taken_where_they_are_known_and_printed() -> None:
    known = [Tube(maker="Oakfen", line="Rowan red", name="Blue"), Tube(maker="Marlholt", line="37")]
    tube = line().tube(known=known)
    assert tube.maker == "Oakfen" and tube.line == "Rowan red"
    assert line().tube().maker == "" and line().tube(known=known[1:]).maker == ""
    both = [*known, Tube(maker="rowan  RED", name="Blue")]
    assert line().tube(known=both).maker == ""  # two names stand there; which is the maker?


def test_makers_of_the_other_seats_are_known(tmp_path: Path) -> None:
    path = tmp_path / "boxes.csv"
    write_boxes(path, [Box("3", (Tube(maker="Oakfen", name="Blue", label="PB29"),))])
    assert [tube.maker for tube in write_seat(path, "4", [line()]).tubes] == ["Oakfen"]


def test_folders_without_pictures_are_refused(tmp_path: Path) -> None:
    with pytest.raises(UserError, match="not there"):
        photographs_in(tmp_path / "absent")
    with pytest.raises(UserError, match="No pictures"):
        photographs_in(tmp_path)


def test_the_label_keeps_what_declares_pigments_and_the_rest_stands_beside_it() -> None:
    tube = line().tube()
    assert tube.label == "Pigments: PRl12, PW6"
    assert tube.extra["print"] == "Oakfen | Rowan red | Pigments: PRl12, PW6 | 37 ml"


def test_an_answer_settles_what_followed_from_the_same_misreading() -> None:
    text = "Pigments: PB27 (C.I. 77510), PRs7 (C.I. 15850)\n"
    read = read_label(text, "")
    doubts = [
        Doubt(kind="not a code", message=w.message, span=w.span, corners=(), candidates=("PR57",))
        for w in read.warnings
        if w.span
    ]
    assert len(doubts) > 1
    one = BoxLine(photograph="a.jpg", place=1, text=text, name="", doubts=tuple(doubts))
    first = text.index("PRs7")
    settled = settle(one, lambda _, d: "PR57" if d.span and d.span[0] == first else "")
    assert settled.doubts == () and settled.tube().pigments[0] == "PB27"
