"""One pigment as a person types it."""

from __future__ import annotations

import pytest

from tubewise.errors import UserError
from tubewise.labels import parse_ref


@pytest.mark.parametrize(
    ("term", "ref", "assumed"),
    [
        ("PV19/gamma", "PV19/gamma", False),
        ("pv19 / beta", "PV19/beta", False),
        ("PV 19 gamma", "PV19/gamma", False),
        ("PV19", "PV19/gamma", True),
        ("pb 15.3", "PB15:3", False),
        ("pg 7", "PG7", False),
        ("nr9", "NR9", False),
        ("Pigment Violet 23", "PV23", False),
        (" PBr7/burnt-sienna ", "PBr7/burnt-sienna", False),
    ],
)
def test_terms(term: str, ref: str, assumed: bool) -> None:
    found = parse_ref(term)
    assert (found.ref, found.form_assumed) == (ref, assumed)


@pytest.mark.parametrize(
    ("term", "says"),
    [
        ("", "not a pigment"),
        ("crimson", "not a pigment"),
        ("PV19 + PB29", "several pigments"),
        ("PVI9", "PV19"),
        ("PV91", "PV19"),
        ("PV19/zeta", "no form"),
        ("PG7/gamma", "no form"),
        ("PB29 PY", "more than a pigment"),
    ],
)
def test_what_is_refused_and_why(term: str, says: str) -> None:
    with pytest.raises(UserError, match=says) as caught:
        parse_ref(term, where="slots.csv, row 3, column accept")
    assert str(caught.value).startswith("slots.csv, row 3, column accept: ")
