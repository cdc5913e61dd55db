"""Two tubes side by side: identity and behaviour, and which of them decided."""

from __future__ import annotations

import pytest

from tests.invented import tube
from tubewise.advice.alike.compare import compare
from tubewise.advice.plain import plain
from tubewise.errors import UserError
from tubewise.paints.shelf import Shelf


def test_student_and_artist_grade_of_one_pigment_differ_in_strength_not_colour() -> None:
    artist = tube("Dioxazine Violet", "PV23")
    student = tube("Mauve", "PV23", line="Study", grade="student")
    seen = compare(artist, student, Shelf([artist, student]))
    assert seen.identity == "same pigments"
    assert seen.parts_for_one == pytest.approx(1 / 0.55, rel=0.05)
    assert abs(seen.tint.hue_shift_deg) < 1.0
    assert seen.masstone.delta_e00 < 1.0 and not seen.close_call
    assert any("student grade" in reason and "parts" in reason for reason in seen.reasons)


def test_one_name_two_pigments_mix_to_different_violets() -> None:
    rose = tube("Permanent Rose", "PV19 rose")
    other = tube("Permanent Rose", "PR209", maker="Millrace")
    seen = compare(rose, other, Shelf([rose, other]), ["PB29"])
    assert seen.identity == "different pigments"
    assert seen.verdict.startswith("not the same in use")
    (violet,) = seen.mixes
    assert violet.chroma_shift < 0.0
    assert violet.parts == "1 : 1 : 4"
    assert seen.masstone.hue_shift_deg > 0.0


def test_a_bare_code_is_no_proof_where_forms_differ() -> None:
    rose = tube("Permanent Rose", "PV19 rose")
    bare = tube("Quinacridone", "PV19", maker="Millrace")
    assert compare(rose, bare, Shelf([rose, bare])).identity == "same code, form may differ"


def test_forms_that_are_both_written_are_compared_by_behaviour(shelf: Shelf) -> None:
    seen = compare("PV19/beta", "PV19/gamma", shelf)
    assert seen.identity == "same code, form may differ"
    assert seen.decided_by == "behaviour"
    assert seen.masstone.delta_e00 > 5.0


def test_different_pigments_that_behave_alike_may_stand_in(shelf: Shelf) -> None:
    seen = compare("PB15:3", "PB15:4", shelf)
    assert seen.identity == "different pigments"
    assert seen.decided_by == "behaviour"
    assert seen.masstone.delta_e00 < 2.0


def test_shared_pigments_are_told() -> None:
    a = tube("Green", "PG7, PY3")
    b = tube("Green Light", "PG7, PY74")
    assert compare(a, b, Shelf([a, b])).identity == "some pigments shared"


def test_an_undeclared_tube_is_refused_with_what_to_do() -> None:
    a, b = tube("Lilac", "acrylic 60 ml"), tube("Mauve", "PV23")
    with pytest.raises(UserError, match="declares no pigments"):
        compare(a, b, Shelf([a, b]))


def test_an_unknown_term_is_told_with_the_nearest() -> None:
    known = tube("Mauve", "PV23")
    with pytest.raises(UserError, match="did you mean"):
        compare("oakfen-fenland-acrylic-mave", "PB29", Shelf([known]))


def test_json_has_the_contracts_keys(shelf: Shelf) -> None:
    out = plain(compare("PV19/gamma", "PR122", shelf, ["PB29"]))
    assert {"identity", "masstone", "undertone", "tint", "mixes", "verdict", "confidence"} <= set(
        out
    )
    assert {"with", "parts", "delta_e00", "hue_shift_deg", "chroma_shift", "words"} <= set(
        out["mixes"][0]
    )
    assert set(out["masstone"]["a"]) == {"lab", "hex"}


def test_the_interval_holds_the_estimate_and_the_telling_swatch_is_named(shelf: Shelf) -> None:
    seen = compare("PV19/gamma", "PR122", shelf)
    for d in (seen.masstone, seen.undertone, *seen.tints, *seen.mixes):
        assert d.low <= d.delta_e00 <= d.high
    assert seen.close_call
    assert "too close to call: make a swatch" in seen.verdict
    assert any("would tell most: PR122" in reason for reason in seen.reasons)


def test_two_tubes_of_unknown_parts_are_never_called_the_same_for_certain() -> None:
    a, b = tube("Leaf", "PY3, PG7"), tube("Green", "PY3, PG7", maker="Millrace")
    seen = compare(a, b, Shelf([a, b]))
    assert seen.masstone.high > 5.0
    assert seen.close_call and seen.confidence == "low"


def test_one_pigment_of_two_makers_may_differ_a_little() -> None:
    a, b = tube("Mauve", "PV23"), tube("Violet", "PV23", maker="Millrace")
    seen = compare(a, b, Shelf([a, b]))
    assert 0.5 < seen.tint.high < 5.0
    assert not seen.close_call


def test_zinc_is_no_titanium_over_black() -> None:
    seen = compare("PW6", "PW4", Shelf())
    assert seen.over_black.lightness_shift < -5.0
    assert not seen.verdict.startswith("one for the other")


def test_whites_are_compared_by_how_they_lighten_a_blue(shelf: Shelf) -> None:
    seen = compare("PW6", "PW4", shelf)
    assert "with PB29" in seen.tint.situation
    # Zinc white lightens less: more of it is needed.
    assert seen.parts_for_one > 1.5
