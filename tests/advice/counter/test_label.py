"""A label as it answers a person."""

from __future__ import annotations

from tubewise.advice.counter.label import read_label
from tubewise.pigments.terms import BINDERS


def test_a_pigment_comes_with_what_the_register_knows() -> None:
    (cadmium,) = read_label("PR108").pigments
    assert cadmium.code == "PR108" and cadmium.opacity == "opaque"
    assert set(cadmium.lightfastness) == set(BINDERS)
    assert cadmium.lightfastness["oil"] == "I"
    assert any("cadmium" in words.casefold() for words in cadmium.cautions)


def test_the_form_that_the_label_shows_is_called_by_its_own_name() -> None:
    shown = read_label("PV19 gamma").pigments[0]
    assumed = read_label("PV19").pigments[0]
    assert (shown.ref, shown.form_assumed) == ("PV19/gamma", False)
    assert assumed.form_assumed
    assert shown.called != assumed.called == assumed.name


def test_a_code_that_nobody_lists_promises_nothing() -> None:
    (unknown,) = read_label("PV199").pigments
    assert unknown.lightfastness == {} and unknown.cautions == () and unknown.opacity == ""


def test_a_pigment_that_fades_without_a_rating_is_fugitive() -> None:
    (diarylide,) = read_label("PY12").pigments
    assert diarylide.lightfastness["oil"] == "fugitive"
    assert diarylide.lightfastness["watercolour"] == "V"


def test_a_warning_points_at_the_letters_it_means() -> None:
    answer = read_label("PV23 / PB15", name="Cadmium Red")
    by_kind = {warning.kind: answer.pointed_at(warning) for warning in answer.warnings}
    assert by_kind["needs-suffix"] == "PB15"
    assert "Cadmium Red" in by_kind.values()


def test_cautions_stand_once_however_many_pigments_share_them() -> None:
    cautions = read_label("PR108, PO20").cautions
    assert len(cautions) == len(set(cautions)) > 0
