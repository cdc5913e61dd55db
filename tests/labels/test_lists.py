"""Several pigments on one label, in the order printed."""

from __future__ import annotations

import pytest

from tubewise.labels import read

LISTS = [
    ("PBk 9/PW6", ["PBk9", "PW6"]),
    ("PY3, PG7 and PW 6", ["PY3", "PG7", "PW6"]),
    ("PY3/PG7", ["PY3", "PG7"]),
    ("PR 101 + PBr 7", ["PR101", "PBr7"]),
    ("Pigments : PR 209", ["PR209"]),
    ("PY3PG7PW6", ["PY3", "PG7", "PW6"]),
    ("PY3-PG7-PW6", ["PY3", "PG7", "PW6"]),
    ("PY3 • PG7 · PW6", ["PY3", "PG7", "PW6"]),
    ("PY3 PG7 PW6", ["PY3", "PG7", "PW6"]),
    ("PY3|PG7;PW6", ["PY3", "PG7", "PW6"]),
    ("PB15:3/PG7", ["PB15:3", "PG7"]),
    ("PB 15.3, PB 15.1", ["PB15:3", "PB15:1"]),
    ("PY3 (11710), PG7 (74260)", ["PY3", "PG7"]),
    ("PY3 11710 / PG7 74260", ["PY3", "PG7"]),
    ("C.I. 51319, 73915", ["PV23", "PR122"]),
    ("C.I. 51319 PV23, C.I. 73915 PR122", ["PV23", "PR122"]),
    ("Pigment Yellow 3, Pigment Green 7", ["PY3", "PG7"]),
    ("Pigments Red 254 and White 6", ["PR254", "PW6"]),
    ("Pigmente: Rot 254, Weiß 6", ["PR254", "PW6"]),
    ("Pigment Blue 15:3 / Green 7, 37 ml", ["PB15:3", "PG7"]),
    ("Pigment Blue 29, White 60 ml", ["PB29"]),
    ("C.I. 77891 51319", ["PW6", "PV23"]),
    ("Pigment(s) PM 1, pg 7", ["PM1", "PG7"]),
    ("Pigment(en): pg 7", ["PG7"]),
    ("Pigment: PB29. Pigmento: PB29. Pigment : PB29", ["PB29"]),
    ("PB29, PB 29", ["PB29"]),
    ("Series 3  PV23 + PW6  37 ml", ["PV23", "PW6"]),
]


@pytest.mark.parametrize(("label", "codes"), LISTS)
def test_lists_are_read_in_full(label: str, codes: list[str]) -> None:
    assert list(read(label).codes) == codes


def test_a_number_belongs_to_the_code_beside_it() -> None:
    reading = read("C.I. 51319 PV23, C.I. 73915 PR122")
    assert [p.constitution for p in reading.pigments] == ["51319", "73915"]
    assert reading.kinds == ()


def test_numbers_may_stand_in_a_list_of_their_own() -> None:
    reading = read("Pigments: PY3, PG7. C.I. 11710, 74260")
    assert [(p.code, p.constitution) for p in reading.pigments] == [
        ("PY3", "11710"),
        ("PG7", "74260"),
    ]


def test_a_chemical_name_may_stand_between_code_and_number() -> None:
    reading = read("PV23 – Dioxazine violet (51319)")
    assert reading.pigments[0].constitution == "51319"
    assert reading.kinds == ()


def test_spans_cover_the_characters_as_printed() -> None:
    text = "Pigmente: P\u00adV 23, Pigmentblau 15:3 / PBK 9"
    assert [text[slice(*p.span)] for p in read(text).pigments] == [
        "P\u00adV 23",
        "Pigmentblau 15:3",
        "PBK 9",
    ]
