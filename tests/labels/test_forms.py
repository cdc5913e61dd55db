"""Which form a label means, and whether that is said or only assumed."""

from __future__ import annotations

import pytest

from tubewise.labels import read

SAID = [
    ("PV19 (beta)", "", "PV19/beta"),
    ("PV19 β", "", "PV19/beta"),
    ("PV19β", "", "PV19/beta"),
    ("PV19beta", "", "PV19/beta"),
    ("PV19-beta", "", "PV19/beta"),
    ("PV19/gamma", "", "PV19/gamma"),
    ("PV19 gamma", "", "PV19/gamma"),
    ("pv19/GAMMA", "", "PV19/gamma"),
    ("PV19 rose", "", "PV19/gamma"),
    ("Rose PV19", "", "PV19/gamma"),
    ("PV19", "Permanent Rose", "PV19/gamma"),
    ("PV19", "Quinacridone Violet", "PV19/beta"),
    ("PV19", "Chinacridonviolett", "PV19/beta"),
    ("PBr7 burnt sienna", "", "PBr7/burnt-sienna"),
    ("PBr7", "Burnt Sienna", "PBr7/burnt-sienna"),
    ("PBr7", "Raw Umber", "PBr7/raw-umber"),
    ("PBr7", "Terre d'ombre brûlée", "PBr7/burnt-umber"),
    ("PBr7", "Siena gebrannt", "PBr7/burnt-sienna"),
    ("Burnt Umber, PBr7", "", "PBr7/burnt-umber"),
    ("PR101, transparent", "Transparent Red Oxide", "PR101/transparent"),
    ("PR108", "Cadmium Red Light", "PR108/light"),
    ("PR108", "Kadmiumrot dunkel", "PR108/deep"),
    ("PR108", "Rouge de cadmium foncé", "PR108/deep"),
    ("PR108", "Rosso di cadmio chiaro", "PR108/light"),
    ("PR108", "Kadmiumröd ljus", "PR108/light"),
    ("PR108", "Czerwień kadmowa ciemna", "PR108/deep"),
    ("PR101", "Terre de Sienne brûlée", "PR101/transparent"),
    ("501 Englischrot / English Red; Pigment: P.R. 101", "Englischrot", "PR101/light"),
    ("Gebrannte Umbra, Burnt Umber. Pigment: PBr7", "Colour 12", "PBr7/burnt-umber"),
    (
        "Gebrande sienna / Brændt sienna / Terra di Siena bruciata / Burnt Sienna, PBr7",
        "",
        "PBr7/burnt-sienna",
    ),
    ("PW6 (anatase)", "", "PW6/anatase"),
    ("PB36", "Cobalt Turquoise", "PB36/green-shade"),
    ("PR170 F5RK", "", "PR170/f5rk"),
]


@pytest.mark.parametrize(("label", "name", "ref"), SAID)
def test_words_that_tell_the_form(label: str, name: str, ref: str) -> None:
    (pigment,) = read(label, name=name).pigments
    assert pigment.ref == ref
    assert not pigment.form_assumed


def test_a_bare_code_gets_the_usual_form_and_a_warning() -> None:
    reading = read("PV19")
    assert reading.refs == ("PV19/gamma",)
    assert reading.pigments[0].form_assumed
    assert reading.kinds == ("needs-form",)
    assert reading.warnings[0].suggestions == ("PV19/beta", "PV19/gamma")


@pytest.mark.parametrize("rating", ["semi-transparent", "light fastness I", "Light Resistance 8"])
def test_a_rating_tells_no_form(rating: str) -> None:
    assert read(f"PR101 {rating}").pigments[0].form_assumed
    assert read(f"PR108 {rating}").pigments[0].form_assumed


def test_no_warning_where_the_forms_look_alike() -> None:
    reading = read("PW6")
    assert reading.refs == ("PW6/rutile",)
    assert reading.pigments[0].form_assumed
    assert reading.kinds == ()


def test_the_colour_of_a_mixture_tells_no_form() -> None:
    reading = read("PV19, PB29", name="Deep Violet")
    assert reading.refs[0] == "PV19/gamma"
    assert reading.pigments[0].form_assumed
    assert "needs-form" in reading.kinds


def test_a_definite_word_tells_it_even_in_a_mixture() -> None:
    reading = read("PBr7, PBk9", name="Burnt Umber")
    assert reading.refs[0] == "PBr7/burnt-umber"
    assert "needs-form" not in reading.kinds


def test_each_pigment_keeps_the_words_beside_it() -> None:
    assert read("PV19 beta, PR101 transparent").refs == ("PV19/beta", "PR101/transparent")
    assert read("PV19/gamma + PV19/beta").refs == ("PV19/gamma", "PV19/beta")


def test_a_stated_form_answers_for_a_bare_repeat() -> None:
    reading = read("Pigment: PV19. Pigment: PV19 (beta)")
    assert reading.refs == ("PV19/beta",)
    assert reading.kinds == ()


def test_a_code_that_needs_its_suffix() -> None:
    reading = read("PB15")
    assert reading.codes == ("PB15",)
    assert reading.kinds == ("needs-suffix",)
    assert "PB15:3" in reading.warnings[0].suggestions
    assert reading.warnings[0].span == (0, 4)
