"""Two tubes side by side: identity and behaviour, and which of them decided."""

from __future__ import annotations

import numpy as np
import pytest

from tests.invented import tube
from tubewise.advice.alike.compare import compare
from tubewise.advice.alike.doubt import Daub, most_telling
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
    assert seen.step == "no" and seen.verdict.startswith("no: ")
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


def test_the_interval_holds_the_estimate(shelf: Shelf) -> None:
    seen = compare("PV19/gamma", "PR122", shelf)
    for d in seen.situations:
        assert d.low <= d.delta_e00 <= d.high


def test_a_doubt_that_matters_ends_in_a_swatch_and_names_the_daub() -> None:
    a, b = tube("Leaf", "PY3, PG7"), tube("Spring", "PY74, PG36, PW6", maker="Millrace")
    seen = compare(a, b, Shelf([a, b]))
    assert seen.close_call and seen.confidence == "low"
    assert seen.verdict.startswith(f"too close to call: make a swatch ({seen.swatch})")
    assert seen.swatch in (
        "both alone, thick",
        "1 part of both in 10 of white",
        "one thin stroke of both over black",
    )
    assert any(seen.swatch in reason for reason in seen.reasons)


def test_a_thin_stroke_over_black_settles_what_scattering_leaves_open() -> None:
    # Over black nothing but scattering comes back: who does not know S learns it there.
    rng = np.random.default_rng(1)
    S_seen = rng.standard_normal((51, 1))
    flat = 0.1 * rng.standard_normal((51, 3))
    found = (
        Daub(words="alone", shows=flat),
        Daub(words="over black", shows=S_seen * [5.0, 1.0, 0.0] + flat),
    )
    assert most_telling(found, 4.0 + 2.0 * S_seen[:, 0]) == "over black"


def test_of_two_daubs_that_tell_alike_the_cheaper_is_named() -> None:
    shows = np.random.default_rng(2).standard_normal((51, 3))
    found = (Daub(words="alone", shows=4.0 * shows), Daub(words="in white", shows=4.1 * shows))
    assert most_telling(found, shows[:, 0]) == "alone"


def test_strength_is_part_of_the_verdict() -> None:
    artist = tube("Dioxazine Violet", "PV23")
    student = tube("Mauve", "PV23", line="Study", grade="student")
    seen = compare(artist, student, Shelf([artist, student]))
    assert seen.step == "yes"
    assert "take twice as much of Mauve" in seen.verdict
    other = compare(student, artist, Shelf([artist, student]))
    assert "take half as much of Dioxazine Violet" in other.verdict


def test_one_name_in_two_media_is_told_apart_by_the_medium() -> None:
    a, b = tube("Mauve", "PV23", swatch_lab=(12.0, 10.0, -10.0)), tube("Mauve", "PV19 rose, PW6")
    c = tube("Mauve", "PV19 rose, PW6", medium="oil")
    assert compare(a, c, Shelf([a, c])).masstone.subject == "Oakfen Fenland Mauve (oil)"
    assert a.title == b.title


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
    assert seen.over_black is not None and seen.over_black.lightness_shift < -5.0
    assert seen.step != "yes" and "it hides far less" in seen.verdict


def test_whites_are_compared_by_how_they_lighten_a_blue(shelf: Shelf) -> None:
    seen = compare("PW6", "PW4", shelf)
    assert "with PB29" in seen.tint.situation
    # Zinc white lightens less: more of it is needed.
    assert seen.parts_for_one > 1.5
