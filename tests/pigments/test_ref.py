"""Ref: one pigment in its one spelling."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load


@pytest.mark.parametrize(
    ("text", "code", "form", "base"),
    [
        ("PV19/gamma", "PV19", "gamma", "PV19"),
        ("PB15:3", "PB15:3", "", "PB15"),
        ("PBk9", "PBk9", "", "PBk9"),
        ("PR57:1", "PR57:1", "", "PR57"),
        ("PBr7/burnt-sienna", "PBr7", "burnt-sienna", "PBr7"),
        ("PB60/f3rk", "PB60", "f3rk", "PB60"),
    ],
)
def test_a_ref_knows_its_code_its_form_and_its_base(
    text: str, code: str, form: str, base: str
) -> None:
    ref = Ref(text)
    assert (ref.code, ref.form, ref.base) == (code, form, base)
    assert Ref.of(code, form) == ref == text


def test_a_ref_is_its_text_wherever_text_goes() -> None:
    assert json.dumps([Ref("PV19/gamma")]) == '["PV19/gamma"]'
    assert sorted([Ref("PV23"), Ref("PB29")]) == ["PB29", "PV23"]
    assert "PV19/gamma" in {Ref("PV19/gamma"): 1}


@pytest.mark.parametrize("text", ["", "PV 19", "PV19/", "PV19/Gamma", "PB15:", "19", "PV19//gamma"])
def test_only_the_proper_spelling_is_taken(text: str) -> None:
    with pytest.raises(ValueError, match="not written as a pigment"):
        Ref(text)


def test_every_colour_of_the_register_is_a_ref() -> None:
    for ref in load().refs:
        assert isinstance(ref, Ref)
        assert load().resolve(ref)[0].code == ref.code


@given(st.text(max_size=12))
def test_what_is_taken_comes_apart_and_together_again(text: str) -> None:
    try:
        ref = Ref(text)
    except ValueError:
        return
    assert Ref.of(ref.code, ref.form) == text
