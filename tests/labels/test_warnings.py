"""Every kind of warning, its span and its advice."""

from __future__ import annotations

import pytest

from tubewise.labels import KINDS, LabelWarning, read


def only(text: str, kind: str, name: str = "") -> LabelWarning:
    """The one warning of that kind on a label."""
    (found,) = (w for w in read(text, name=name).warnings if w.kind == kind)
    return found


MISREAD = [
    ("PVI9", "PVI9", "PV19"),
    ("PVl9", "PVl9", "PV19"),
    ("PV|9", "PV|9", "PV19"),
    ("P823", "P823", "PV23"),
    ("P815:3", "P815:3", "PB15:3"),
    ("PB1S:3", "PB1S:3", "PB15:3"),
    ("PBI5:3", "PBI5:3", "PB15:3"),
    ("PR2O9", "PR2O9", "PR209"),
    ("PYl50", "PYl50", "PY150"),
    ("PYlSO, PG7", "", ""),
    ("PU23", "PU23", "PV23"),
    ("P8k9", "P8k9", "PBk9"),
    ("P073", "P073", "PO73"),
    ("PVV6", "PVV6", "PW6"),
    ("PY3, P67", "P67", "PG7"),
    ("PY3 + PGZ + PW6", "", ""),
    ("PV23BS", "PV23BS", "PV23"),
    ("Pigments: PY3, PR1O1", "PR1O1", "PR101"),
]


@pytest.mark.parametrize(("text", "printed", "suggested"), MISREAD)
def test_likely_misreadings_are_shown_not_corrected(
    text: str, printed: str, suggested: str
) -> None:
    if not printed:  # a word without any figure is left alone
        assert "likely-misread" not in read(text).kinds
        return
    warning = only(text, "likely-misread")
    assert warning.span is not None and text[slice(*warning.span)] == printed
    assert suggested in warning.suggestions
    assert suggested not in read(text).codes


@pytest.mark.parametrize(
    "text", ["Item P823", "a P823 easel box", "PRO 5", "POLISH", "LOT PVI9", "PB1S-200", "PVC19"]
)
def test_other_words_are_not_called_misread(text: str) -> None:
    assert read(text).kinds == ("nothing-declared",)


def test_an_unknown_code_stays_declared_and_near_ones_are_named() -> None:
    reading = read("PR221, PV91")
    assert reading.codes == ("PR221", "PV91")
    warning = only("PR221, PV91", "unknown-code")
    assert warning.span == (7, 11)
    assert "PV19" in warning.suggestions and "PV19" in warning.message


@pytest.mark.parametrize(
    ("text", "near"),
    [("PR15:3", "PB15:3"), ("PB15:9", "PB15:3"), ("PV23:1", "PV23"), ("PB 153", "PB15:3")],
)
def test_an_unknown_suffix(text: str, near: str) -> None:
    assert near in only(text, "unknown-code").suggestions


@pytest.mark.parametrize(
    ("text", "printed", "belongs_to"),
    [
        ("PV23 (73915)", "73915", "PR122"),
        ("C.I. Pigment Violet 23 (51391)", "51391", ""),
        ("PV23, C.I. 73915", "73915", "PR122"),
        ("CI 77007 (PB28)", "77007", "PB29"),
        ("PV23: dioxazine violet, C.I. 73915", "73915", "PR122"),
    ],
)
def test_code_and_number_disagree(text: str, printed: str, belongs_to: str) -> None:
    warning = only(text, "code-number-disagree")
    assert warning.span is not None and text[slice(*warning.span)] == printed
    assert belongs_to in warning.message
    assert len(read(text).pigments) == 1


def test_a_lake_printed_with_its_base_number_agrees() -> None:
    assert read("PR83 (58000:1)").kinds == ()
    assert read("PR83:1 (58000)").kinds == ()


def test_several_numbers_of_one_earth_agree() -> None:
    assert read("PBr7 (77491, 77492, 77499)", name="Burnt Umber").kinds == ()


def test_a_shared_number_alone_is_the_usual_one_and_doubted() -> None:
    reading = read("C.I. 77266")
    assert reading.codes == ("PBk7",)
    assert reading.kinds == ("ambiguous-number",)
    assert set(reading.warnings[0].suggestions) == {"PBk6", "PBk7"}


def test_the_colour_in_the_name_settles_a_shared_number_but_the_warning_stays() -> None:
    reading = read("C.I. 77007", name="Ultramarine Blue")
    assert reading.codes == ("PB29",)
    assert reading.kinds == ("ambiguous-number",)


def test_a_pigment_s_own_name_settles_a_shared_number_too() -> None:
    reading = read("C.I. 73900", name="Permanent Rose")
    assert reading.refs == ("PV19/gamma",)
    assert reading.kinds == ("ambiguous-number",)


def test_a_number_of_one_family_gives_the_family() -> None:
    reading = read("CI 74160")
    assert reading.codes == ("PB15",)
    assert "ambiguous-number" in reading.kinds


def test_an_unknown_number() -> None:
    warning = only("C.I. 12345", "unknown-code")
    assert warning.span == (5, 10)


@pytest.mark.parametrize(
    ("text", "figure", "meant"),
    [
        ("PY 3, 74", "74", "PY74"),
        ("PY3/74", "74", "PY74"),
        ("PR 101 & 108", "108", "PR108"),
        ("PY3 and 74.", "74", "PY74"),
        ("PY3-74", "74", "PY74"),
    ],
)
def test_a_bare_number_after_a_code_is_asked_about(text: str, figure: str, meant: str) -> None:
    warning = only(text, "shorthand")
    assert warning.span is not None and text[slice(*warning.span)] == figure
    assert warning.suggestions == (meant,)
    assert meant not in read(text).codes


@pytest.mark.parametrize("text", ["PY3, 37 ml", "PY3, 3 stars", "PY3, 1.5 oz", "PG7, 999"])
def test_other_numbers_after_a_code_are_not(text: str) -> None:
    assert "shorthand" not in read(text).kinds


@pytest.mark.parametrize("text", ["", "   ", "\n", "Acrylic colour 37 ml", "permanent"])
def test_nothing_declared(text: str) -> None:
    reading = read(text)
    assert reading.pigments == ()
    assert reading.kinds == ("nothing-declared",)
    assert reading.warnings[0].span is None


def test_one_warning_for_a_code_repeated_in_five_languages() -> None:
    assert read("Pigment: PV19 / Pigmento: PV19 / Pigment : PV19").kinds == ("needs-form",)


def test_the_table_of_kinds_is_complete() -> None:
    seen = {
        kind
        for text, name in [
            ("PVI9, PV91, PB15, PV19, PY3, 74", "Cadmium Red"),
            ("PV23 (73915)", ""),
            ("CI 77266", ""),
            ("", ""),
            ("PR112", "Cadmium Red"),
            ("PR112", "Cadmium Red Hue"),
            ("PR112", "Sky Blue"),
            ("PB15:3", "Phthalo Blue Red Shade"),
            ("PB29, PB15:3", "Ultramarine"),
            ("Acid Red 18", ""),
            ("PR254; PG 4", ""),
        ]
        for kind in read(text, name=name).kinds
    }
    assert seen == set(KINDS)
