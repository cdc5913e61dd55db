"""Codes that are price groups, numbers or notes, and spellings that were lost before."""

from __future__ import annotations

import pytest

from tubewise.labels import read

SILENT_ONCE = [
    ("BV 10, PR 122", "BV10 PR122"),
    ("PB 29, 15:3", "PB29 PB15:3"),
    ("PB15:1, 15:3 und PG7", "PB15:1 PB15:3 PG7"),
    ("P. Yellow 42", "PY42"),
    ("P Blau 29, P Weiß 6", "PB29 PW6"),
    ("PB-29-77007", "PB29"),
    ("PB29_PW6", "PB29 PW6"),
    ("PBl 29", "PB29"),
    ("PBl 15:3", "PB15:3"),
    ("PGr 7", "PG7"),
    ("CI 77266", "PBk7"),
    ("Iron oxide (77491), PB29", "PR101 PB29"),
    ("Black ink: PBk7, C.I. 42090", "PBk7"),
]


@pytest.mark.parametrize(("label", "codes"), SILENT_ONCE)
def test_spellings_that_were_lost(label: str, codes: str) -> None:
    assert read(label).codes == tuple(codes.split())


NO_PIGMENT = [
    ("P.R. 254; PG 4; 37 ml", "PR254", "PG 4"),
    ("PY1; PY2; PG 1", "PY1 PY2", "PG 1"),
    ("PB29\nPG 4", "PB29", "PG 4"),
    ("PB29 Nr. 4", "PB29", "Nr. 4"),
    ("N.B. 1: PB29", "PB29", "N.B. 1"),
    ("PR83, NR 9", "PR83", "NR 9"),
    ("PG. 4, PB29", "PB29", "PG. 4"),
]


@pytest.mark.parametrize(("label", "codes", "doubted"), NO_PIGMENT)
def test_what_may_be_something_else_is_not_read_and_said(
    label: str, codes: str, doubted: str
) -> None:
    reading = read(label)
    assert reading.codes == tuple(codes.split())
    doubts = [w for w in reading.warnings if w.kind == "maybe-something-else"]
    assert [label[slice(*w.span or (0, 0))] for w in doubts] == [doubted]
    assert "not read as" in doubts[0].message


@pytest.mark.parametrize("label", ["PR108 no 20", "PR108 Nr 12", "PB29 No. 7", "n° 4 PB29"])
def test_numbers_of_no_pigment_need_no_word(label: str) -> None:
    kinds = set(read(label).kinds)
    assert kinds <= {"needs-form"} and len(read(label).codes) == 1


def test_after_the_pigment_field_it_is_read_and_doubted_aloud() -> None:
    reading = read("Pigment: NR 9")
    assert reading.codes == ("NR9",) and reading.kinds == ("maybe-something-else",)


@pytest.mark.parametrize(
    ("label", "codes"),
    [
        ("Pigments: PY1; PY2; PG 1", "PY1 PY2 PG1"),
        ("PY1; PY2; PG 7", "PY1 PY2 PG7"),
        ("PG 4, PB29", "PG4 PB29"),
    ],
)
def test_where_a_pigment_is_likelier_it_is_read_and_doubted(label: str, codes: str) -> None:
    reading = read(label)
    assert reading.codes == tuple(codes.split())
    assert "maybe-something-else" in reading.kinds


def test_lists_go_on_after_a_suffix_and_a_reference_is_one_number() -> None:
    assert read("Pigment Blue 15:1, 15:3, White 6").codes == ("PB15:1", "PB15:3", "PW6")
    assert read("Ref PV19/PR122").codes == ("PV19", "PR122")
    assert read("Ref. PB29").codes == ()
    assert read("jaune de pigment 154").codes == ("PY154",)


def test_phthalo_green_in_a_list_of_its_own_style_is_itself() -> None:
    for label in ("PB 29; PG 7; PW 6", "PY3, PG 7, PW6", "PB15:3 + PG 7"):
        assert "PG7" in read(label).codes and "maybe-something-else" not in read(label).kinds


SHADES = [
    ("Phthalo Blue Red Shade", "PB15:3", True),
    ("Phthaloblau rötlich", "PB15:3", True),
    ("Bleu phtalo nuance rouge", "PB15:4", True),
    ("Phthalo Green YS", "PG7", True),
    ("Phthalo Blue (GS)", "PB15:3", False),
    ("Phthalo Blue Red Shade", "PB15:1", False),
    ("Phthalo Green Blue Shade", "PG7", False),
]


@pytest.mark.parametrize(("name", "label", "amiss"), SHADES)
def test_a_shade_that_the_code_is_not_is_doubted(name: str, label: str, amiss: bool) -> None:
    """Which crystal is which shade: common practice, no source."""
    assert ("shade-disagrees" in read(label, name=name).kinds) is amiss


@pytest.mark.parametrize(
    ("name", "label", "more"),
    [
        ("Ultramarine", "PB29, PB15:3", True),
        ("Ultramarine deep", "PB29, PV23", True),
        ("Ultramarine", "PB29", False),
        ("Ultramarine Violet", "PV15", False),
        ("Cobalt Blue Hue", "PB29, PW6", False),
        ("Sap Green", "PG7, PY42", False),
    ],
)
def test_the_name_of_one_pigment_over_several_is_doubted(name: str, label: str, more: bool) -> None:
    assert ("more-than-named" in read(label, name=name).kinds) is more


def test_a_colour_that_several_pigments_cannot_give_is_doubted() -> None:
    assert "hue-disagrees" in read("PB29, PY74", name="Rose").kinds


DYES = ["Acid Red 18", "C.I. Food Blue 2 (42090)", "Direct Blue 86", "Solvent Red 24", "CI 42090"]


@pytest.mark.parametrize("label", DYES)
def test_dyes_are_called_dyes_with_their_fastness(label: str) -> None:
    reading = read(label)
    dyes = [w.message for w in reading.warnings if w.kind == "dye"]
    assert reading.codes == () and len(dyes) == 1
    assert "no pigment" in dyes[0] and ("fades" in dyes[0] or "holds" in dyes[0])
