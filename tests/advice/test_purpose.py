"""Permanence and purpose, as a painter who sells expects it: common practice, no source."""

from __future__ import annotations

from pathlib import Path

import pytest

from tubewise.advice.purpose import name_of, read_weights, remarks, standing
from tubewise.errors import UserError
from tubewise.pigments.purpose import PRACTICE, SALE, Purpose, purpose_named
from tubewise.pigments.register import load


def test_alizarin_is_for_practice_and_not_for_sale() -> None:
    assert standing(["PR83"], "oil").accepted
    sold = standing(["PR83"], "oil", SALE)
    assert not sold.accepted and sold.category == "III"
    assert sold.line == (
        "PR83 (alizarin crimson) is III in oil, and pictures for sale ask for category I or II. "
        "PR83 (alizarin crimson): Fades in light, and much faster in tints and thin washes."
    )


def test_the_weakest_member_decides_a_mixture_and_is_named() -> None:
    sold = standing(["PR57:1", "PW6", "PR106"], "oil", SALE)
    assert not sold.accepted and sold.category == "fugitive"
    assert "PR57:1 (lithol rubine) is fugitive in oil" in sold.refused
    assert "PW6" not in sold.refused
    assert "PR106 (vermilion): Some batches turn dark in light" in sold.line


def test_the_binder_in_hand_decides() -> None:
    assert standing(["PV23"], "acrylic", SALE).accepted
    assert not standing(["PV23"], "Aquarell", SALE).accepted
    assert not standing(["PB60"], "gouache", SALE).accepted
    assert "PB60 (indanthrone blue) has no rating in gouache" in (
        standing(["PB60"], "gouache", SALE).refused
    )


def test_nothing_is_promised_of_what_says_nothing() -> None:
    assert standing([], "oil").accepted
    assert "nothing says which pigments are in it" in standing([], "oil", SALE).line


def test_zinc_white_may_flake_in_oil_and_not_in_gouache() -> None:
    assert "brittle and may flake" in standing(["PW4"], "oil", SALE).line
    assert "brittle and may flake" in standing(["PW4"], "alkyd").line
    assert standing(["PW4"], "gouache", SALE).line == ""


def test_prussian_blue_turns_brown_in_acrylic() -> None:
    assert "Turns brown" in standing(["PB27"], "acrylic").line
    assert standing(["PB27"], "watercolour").line == ""


def test_ultramarine_and_acid_stand_beside_not_first() -> None:
    blue = standing(["PB29"], "oil", SALE)
    assert blue.accepted and blue.line == ""
    assert any("Acid" in words for words in blue.beside)


def test_what_fades_in_washes_alone_is_not_said_of_an_acrylic() -> None:
    assert "thin watercolour washes" in standing(["PR122"], "watercolour").line
    assert not remarks(["PR122"], "acrylic")


def test_what_is_no_longer_made_is_said_first() -> None:
    assert "Hardly made any more" in standing(["PB33"], "watercolour").line


def test_every_note_of_the_register_is_said_somewhere() -> None:
    told = 0
    for pigment in load():
        texts = {remark.text for remark in remarks([pigment.code])}
        assert texts == {note.text for note in pigment.notes}
        told += len(pigment.notes)
    assert told >= 160


@pytest.mark.parametrize(
    ("written", "purpose"),
    [
        ("", PRACTICE),
        ("Practice", PRACTICE),
        ("Übung", PRACTICE),
        ("for sale", SALE),
        ("Verkauf", SALE),
        ("vente", SALE),
        ("sale I", Purpose(name="sale", at_least="I")),
        ("sale iii", Purpose(name="sale", at_least="III")),
        ("practice II", Purpose(name="practice", at_least="II")),
    ],
)
def test_purposes_as_people_write_them(written: str, purpose: Purpose) -> None:
    assert purpose_named(written) == purpose


@pytest.mark.parametrize("written", ["museum", "II", "sale VI", "?"])
def test_an_unknown_purpose_is_refused(written: str) -> None:
    with pytest.raises(ValueError, match="write practice or sale"):
        purpose_named(written)


def test_a_category_of_ones_own() -> None:
    assert standing(["PR122"], "watercolour", purpose_named("sale III")).accepted
    assert not standing(["PR177"], "oil", purpose_named("sale I")).accepted


def test_names_as_a_sentence_has_them() -> None:
    assert name_of("PV19/gamma").startswith("PV19 (quinacridone")
    assert name_of("PQ7") == "PQ7"


def test_a_kind_of_note_without_a_row_is_a_fault_of_the_file(tmp_path: Path) -> None:
    file = tmp_path / "note_weight.csv"
    file.write_text(
        "note,matters_in,line,source\nfugitive,butter,top,\nodd,any,first,book\n", encoding="utf-8"
    )
    with pytest.raises(UserError) as error:
        read_weights(file)
    faults = "\n".join(error.value.problems)
    assert "row 2, column matters_in" in faults and "row 2, column line" in faults
    assert "row 2, column source" in faults and "row 3, column note" in faults
    assert "nothing is said of fugitive in tints" in faults
