"""Codes as printed on tubes, and the pigments they are read as."""

from __future__ import annotations

import pytest

from tubewise.labels import read
from tubewise.pigments.register import Register, load

WRITTEN = [
    ("PV23", "PV23"),
    ("P.V. 23", "PV23"),
    ("PV 23", "PV23"),
    ("P V 23", "PV23"),
    ("PV-23", "PV23"),
    ("PV.23", "PV23"),
    ("pv23", "PV23"),
    ("Pv 23", "PV23"),
    ("PV023", "PV23"),
    ("PV\n23", "PV23"),
    ("PV\u00a023", "PV23"),
    ("P\u00adV\u00ad23", "PV23"),
    ("ＰＶ２３", "PV23"),
    ("РВ15:3", "PB15:3"),  # Cyrillic letters that look the same in print
    ("Pigment Violet 23", "PV23"),
    ("C.I. Pigment Violet 23 (51319)", "PV23"),
    ("C.I. PV23", "PV23"),
    ("CIPV23", "PV23"),
    ("CI 51319", "PV23"),
    ("C.I. 51319", "PV23"),
    ("C. I. No. 51319", "PV23"),
    ("Colour Index 51319", "PV23"),
    ("51319", "PV23"),
    ("PB15:3", "PB15:3"),
    ("PB 15.3", "PB15:3"),
    ("PB15/3", "PB15:3"),
    ("PB15-3", "PB15:3"),
    ("PB 15 : 3", "PB15:3"),
    ("Pigment Blue 15:3", "PB15:3"),
    ("PBK9", "PBk9"),
    ("PBk 9", "PBk9"),
    ("P.Bk.9", "PBk9"),
    ("PBR7 burnt sienna", "PBr7"),
    ("NR9", "NR9"),
    ("Natural Red 9", "NR9"),
    ("Basic Violet 10", "BV10"),
    ("BV10", "BV10"),
    ("PR101¹", "PR101"),
    ("#PB29", "PB29"),
    ("CI77891", "PW6"),
    ("C.I.77891", "PW6"),
    ("PB No. 29", "PB29"),
    ("PB n° 29", "PB29"),
    ("N.R. 9", "NR9"),
    ("PY74LF", "PY74"),
]


@pytest.mark.parametrize(("label", "code"), WRITTEN)
def test_one_code_in_every_way_of_writing_it(label: str, code: str) -> None:
    assert read(label).codes == (code,)


def test_another_register_may_be_used() -> None:
    shipped = load()
    small = Register({"PB29": shipped.resolve("PB29")[0]}, {}, ())
    reading = read("PB29, PV23", register=small)
    assert reading.codes == ("PB29", "PV23")
    assert reading.kinds == ("unknown-code",)


def test_a_repeat_may_bring_the_number() -> None:
    (pigment,) = read("PV23. Pigment Violet 23 (51319)").pigments
    assert pigment.constitution == "51319"
    assert pigment.span == (0, 4)


def test_no_code_has_the_number_nought() -> None:
    assert read("PV0").codes == ()


def test_a_number_with_a_suffix_of_a_listed_base() -> None:
    (pigment,) = read("PB15:3 (C.I. 74160:3)").pigments
    assert pigment.constitution == "74160"


def test_numbers_in_a_list_after_the_first() -> None:
    assert read("(77891) and Pigments: 51319, 73915").codes == ("PW6", "PV23", "PR122")
