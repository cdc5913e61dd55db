"""Doubtful print is shown with its candidates and never corrected in silence."""

from __future__ import annotations

from tests.labels.photo.printed import line
from tubewise.labels.photo.doubts import find_doubts, page_of
from tubewise.labels.photo.letters import with_letters
from tubewise.labels.photo.lines import PrintedLine
from tubewise.labels.photo.photo_reading import Doubt
from tubewise.labels.reader import read
from tubewise.labels.reading import Reading


def doubts_of(*lines: PrintedLine) -> tuple[Reading, tuple[Doubt, ...]]:
    page, spans = page_of([[one] for one in lines])
    reading = read(page.text)
    return reading, find_doubts(page, spans, reading)


def test_clear_print_is_not_doubted() -> None:
    reading, doubts = doubts_of(line("Rowan red"), line("Pigments: PR112, PW6", y=40))
    assert reading.codes == ("PR112", "PW6") and doubts == ()


def test_a_doubtful_figure_names_the_codes_it_may_mean() -> None:
    reading, doubts = doubts_of(line("Pigments: PV23", doubts={13: (0.7, "9")}))
    assert reading.codes == ("PV23",)  # as read: nothing is put in its place
    assert doubts[0].kind == "sign"
    assert doubts[0].candidates[:2] == ("PV23", "PV29")


def test_a_letter_that_no_code_has_there_is_left_to_the_person() -> None:
    reading, doubts = doubts_of(line("Pigments: PWG, PB29", doubts={12: (0.6, "6")}))
    assert reading.codes == ("PB29",)
    assert doubts[0].candidates[0] == "PW6"
    assert "PWG" in doubts[0].message


def test_the_constitution_number_beside_it_confirms_a_doubtful_code() -> None:
    reading, doubts = doubts_of(line("Pigments: PV23 (C.I. 51319)", doubts={13: (0.8, "9")}))
    assert reading.pigments[0].constitution == "51319" and doubts == ()


def test_a_second_look_that_differs_is_a_doubt() -> None:
    _, doubts = doubts_of(line("Pigments: PR22", second="Pigments: PR122"))
    assert doubts[0].kind == "second look" and doubts[0].candidates == ("PR22", "PR122")


def test_a_list_that_ends_with_a_comma_goes_on_somewhere() -> None:
    _, doubts = doubts_of(line("Pigments: PR22,"), line("Shake gently.", y=40))
    assert [doubt.kind for doubt in doubts] == ["list goes on"]


def test_a_list_that_begins_with_a_comma_began_before() -> None:
    _, doubts = doubts_of(line("Artists' acrylic"), line(", Pigment Blue 73", y=40))
    assert [doubt.kind for doubt in doubts] == ["list goes on"]
    _, doubts = doubts_of(line("Pigments: PR122"), line(", PW6", y=40))
    assert doubts == ()


def test_letters_without_their_number_are_doubted() -> None:
    _, doubts = doubts_of(line("Pigments: PB29, PY"))
    assert doubts and all(doubt.kind in ("not a code", "list goes on") for doubt in doubts)


def test_a_tube_without_codes_says_so() -> None:
    _, doubts = doubts_of(line("Rowan red"), line("Shake gently.", y=40))
    assert [doubt.kind for doubt in doubts] == ["nothing"]


def test_a_doubt_stands_where_its_sign_stands() -> None:
    _, doubts = doubts_of(line("Pigments: PV23", y=100, doubts={13: (0.7, "9")}))
    left, right = min(x for x, _ in doubts[0].corners), max(x for x, _ in doubts[0].corners)
    assert 160 < left < 200 and 230 < right < 270
    assert {y for _, y in doubts[0].corners} == {100.0, 130.0}


def test_a_nought_that_can_only_be_a_letter_is_taken_for_it_and_said() -> None:
    reading, doubts = doubts_of(with_letters(line("Pigments: P048, PB29")))
    assert reading.codes == ("PO48", "PB29")
    assert doubts[0].candidates == ("PO48",) and "“P048”" in doubts[0].message
    assert with_letters(line("P099")).text == "P099"  # no such code: left as it is
