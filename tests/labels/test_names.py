"""A paint's name against its codes. Names and labels are invented in the manner of the trade."""

from __future__ import annotations

import pytest

from tubewise.labels import read

ABOUT_THE_NAME = {"hue-paint", "misleading-name", "hue-disagrees"}

IN_ORDER = [
    ("Cadmium Red Medium", "PR108"),
    ("Cadmium Red Orange", "PR108"),
    ("Cadmium-Free Red", "PR254"),
    ("Rouge sans cadmium", "PR254"),
    ("Kadmiumrot dunkel", "PR108"),
    ("Kadmiumrot, kadmiumfrei", "PR254"),
    ("Jaune de cadmium citron", "PY35"),
    ("Alizarin Crimson", "PR83:1"),
    ("Permanent Alizarin Crimson", "PR177, PV19"),
    ("Alizarin Crimson, permanent", "PV19, PR149"),
    ("Quinacridone Violet", "PV19"),
    ("Quinacridone Red Violet", "PV19"),
    ("Permanent Rose", "PV19"),
    ("Rose Violet", "PR122"),
    ("Primary Magenta", "PR122"),
    ("Primary Cyan", "PB15:3"),
    ("Deep Red Violet", "PR122, PB29"),
    ("Blue Black", "PBk9, PB29"),
    ("Blue Black", "PBk7"),
    ("Blue Violet", "PV23, PB29"),
    ("Violet Grey", "PV23, PW6, PBk7"),
    ("Warm Grey", "PBk7, PY42, PW6"),
    ("Neutral Grey 5", "PBk9, PW6"),
    ("Cool Gray", "PB29, PBr7, PW6"),
    ("Blue Grey", "PB29, PW6, PBk7"),
    ("Green Gold", "PY129"),
    ("Green Gold", "PY150, PG36, PY3"),
    ("Rich Green Gold", "PY129"),
    ("Quinacridone Gold", "PO49"),
    ("Quinacridone Gold", "PO48, PY150"),
    ("Transparent Orange", "PO71"),
    ("Permanent Orange", "PY83, PR112"),
    ("Orange", "PY74, PR254"),
    ("Sap Green", "PG7, PY42"),
    ("Sap Green", "PG36, PY110"),
    ("Olive Green", "PY65, PB15:3, PBk7"),
    ("Olive Green", "PY42, PBk9"),
    ("Light Green", "PY3, PG7, PW6"),
    ("Hooker's Green", "PB15:3, PY150"),
    ("Permanent Green Light", "PY3, PG7"),
    ("Phthalo Green Blue Shade", "PG7"),
    ("Phthalo Blue Green Shade", "PB15:3"),
    ("Phthalo Blue Red Shade", "PB15:1"),
    ("Phthaloblau grünstichig", "PB15:3"),
    ("Turquoise", "PB15:3, PG7"),
    ("Cobalt Turquoise", "PB36"),
    ("Cobalt Teal Blue", "PG50"),
    ("Light Blue", "PB15:3, PW6"),
    ("Sky Blue", "PB29, PW6"),
    ("Royal Blue Light", "PB29, PW6"),
    ("Paris Blue", "PB27"),
    ("Bleu de Prusse", "PB27"),
    ("Payne's Grey", "PB29, PBk9"),
    ("Payne's Grey", "PBk7, PB15, PV19"),
    ("Indigo", "PB60, PBk6"),
    ("Perylene Green", "PBk31"),
    ("Perylene Maroon", "PR179"),
    ("Brown Madder", "PR206"),
    ("Brown Madder", "NR9, PBr7"),
    ("Van Dyke Brown", "PBk9, PR101"),
    ("Van Dyke Brown", "PBr7, PBk7"),
    ("Burnt Sienna", "PR101"),
    ("Burnt Sienna", "PBr7"),
    ("Raw Umber", "PBr7, PBk11"),
    ("Yellow Ochre", "PY42"),
    ("Gelber Ocker", "PY43"),
    ("Red Ochre", "PR102"),
    ("Transparent Yellow Oxide", "PY42"),
    ("Transparent Brown Oxide", "PR101, PBk9"),
    ("Mars Violet", "PR101"),
    ("Caput Mortuum Violet", "PR101"),
    ("Violet Brown", "PR101"),
    ("Indian Yellow", "PY83"),
    ("Indian Yellow", "PO62, PY139"),
    ("Indian Red", "PR101"),
    ("Naples Yellow", "PW6, PY42, PR101"),
    ("Naples Yellow Red", "PW6, PO73, PY42"),
    ("Naples Yellow", "PBr24"),
    ("Buff Titanium", "PW6"),
    ("Warm White", "PW6, PY42"),
    ("Mixing White", "PW4, PW6"),
    ("Black", "PG7, PR122"),
    ("Chromatic Black", "PG7, PR122"),
    ("Black Cherry", "PR122, PBk9"),
    ("Neutral Tint", "PBk7, PV19, PB15"),
    ("Sepia", "PBk9, PBr7"),
    ("Flesh Pink", "PW6, PR101, PY42"),
    ("Portrait Pink", "PW6, PR112"),
    ("Brilliant Pink", "PR122, PW6"),
    ("Old Rose", "PR101, PW6"),
    ("Lilac", "PV23, PW6"),
    ("Lavender Violet", "PB29, PV15, PW6"),
    ("Ultramarine Violet", "PV15"),
    ("Ultramarine Pink", "PV15"),
    ("Ultramarine Pink", "PR259"),
    ("Iridescent Gold", "PW20, PW6, PY42"),
    ("Antique Bronze", "PW20, PBk11"),
    ("Silver", "PM1"),
    ("Silver", "PW20, PBk7"),
    ("Copper", "PM2"),
    ("Pearl White", "PW20"),
    ("Interference Blue", "PW20"),
    ("Fluorescent Pink", "BV10"),
    ("Vert olive", "PY42, PG7, PBk9"),
    ("Vert-bleu", "PG7, PB15:3"),
    ("Gris bleuté", "PB29, PBk9, PW6"),
    ("Rouge écarlate", "PR255"),
    ("Brun rouge", "PR101"),
    ("Verde vescica", "PG7, PY83"),
    ("Terra di Siena bruciata", "PBr7"),
    ("Nero d'avorio", "PBk9"),
    ("Rojo violáceo", "PV19"),
    ("Sombra tostada", "PBr7"),
    ("Violeta permanente", "PV23"),
    ("Olivgrün", "PY150, PBk7"),
    ("Blaugrün", "PG7"),
    ("Rotbraun", "PR101"),
    ("Lichtgroen", "PG7, PY3, PW6"),
    ("Donkergrijs", "PBk11, PW6"),
    ("Ljusblå", "PB15:3, PW6"),
    ("Gulgrön", "PY3, PG7"),
    ("Mørkerød", "PR179"),
    ("Czerwień kadmowa", "PR108"),
    ("Carrot", "PO73"),
    ("Moss", "PG17"),
    ("No. 7", "PB29"),
]


@pytest.mark.parametrize(("name", "label"), IN_ORDER)
def test_an_honest_name_raises_no_alarm(name: str, label: str) -> None:
    assert ABOUT_THE_NAME.isdisjoint(read(label, name=name).kinds)


HUE_PAINTS = [
    ("Cadmium Red Hue", "PR112"),
    ("Cadmium Yellow (Hue)", "PY74"),
    ("Cadmium Yellow Imit.", "PY74"),
    ("Cobalt Blue Hue", "PB29, PW6"),
    ("Cerulean Blue Hue", "PB15:3, PW6"),
    ("Alizarin Crimson Hue", "PR177"),
    ("Viridian Hue", "PG7"),
    ("Kadmiumrotton", "PR112"),
    ("Kadmiumrot-Ton", "PR112"),
    ("Kobaltblau (Farbton)", "PB29, PW6"),
    ("Jaune de cadmium (teinte)", "PY74"),
    ("Rosso di cadmio tono", "PR112"),
    ("Rojo de cadmio (tono)", "PR112"),
    ("Rojo de cadmio imit.", "PR112"),
    ("Cadmiumrood tint", "PR112"),
    ("Vermelho de cádmio (tom)", "PR112"),
]


@pytest.mark.parametrize(("name", "label"), HUE_PAINTS)
def test_a_hue_paint_says_so_itself(name: str, label: str) -> None:
    reading = read(label, name=name)
    assert ABOUT_THE_NAME & set(reading.kinds) == {"hue-paint"}


MISLEADING = [
    ("Cadmium Red", "PR112", "PR108"),
    ("Cadmium Yellow Medium", "PY74", "PY35"),
    ("Kadmiumrot", "PR112", "PR108"),
    ("Rouge de cadmium", "PR254", "PR108"),
    ("Cobalt Blue", "PB29, PW6", "PB28"),
    ("Bleu outremer", "PB15:3, PV23", "PB29"),
    ("Alizarin Crimson", "PV19", "PR83"),
    ("Viridian", "PG7", "PG18"),
    ("Cobalt Violet", "PV23, PR122", "PV14"),
]


@pytest.mark.parametrize(("name", "label", "wanted"), MISLEADING)
def test_a_plain_name_that_promises_what_is_not_there(name: str, label: str, wanted: str) -> None:
    reading = read(label, name=name)
    assert ABOUT_THE_NAME & set(reading.kinds) == {"misleading-name"}
    warning = next(w for w in reading.warnings if w.kind == "misleading-name")
    assert warning.where == "name"
    assert wanted in warning.suggestions
    assert wanted in warning.message


WRONG_COLOUR = [
    ("Permanent Blue", "PR112"),
    ("Lemon Yellow", "PB15:3"),
    ("Permanent Green", "PR122"),
    ("Bright Red", "PG7"),
    ("Deep Violet", "PY74"),
    ("Yellow", "PG7"),
    ("Green", "PB15:3"),
    ("White", "PBk7"),
    ("Black", "PW6"),
    ("Orange", "PB29"),
    ("Blau", "PY3"),
    ("Vert clair", "PV23"),
    ("Giallo brillante", "PV23"),
    ("Zielony", "PR112"),
    ("Dunkelblau", "PR101"),
    ("Green", "PR112, PW6"),
    ("Blue", "PY3, PR112"),
]


@pytest.mark.parametrize(("name", "label"), WRONG_COLOUR)
def test_a_name_that_the_pigments_cannot_give(name: str, label: str) -> None:
    reading = read(label, name=name)
    assert ABOUT_THE_NAME & set(reading.kinds) == {"hue-disagrees"}


def test_the_span_of_a_name_warning_points_into_the_name() -> None:
    name = "Artists' Cadmium Red Deep"
    (warning,) = (w for w in read("PR112", name=name).warnings if w.kind == "misleading-name")
    assert warning.where == "name" and warning.span is not None
    assert name[slice(*warning.span)] == "Cadmium Red"


def test_without_a_name_the_words_before_the_code_serve_as_one() -> None:
    text = "Cadmium Red Hue, PR112, 37 ml"
    (warning,) = read(text).warnings
    assert (warning.kind, warning.where) == ("hue-paint", "label")
    assert warning.span is not None and text[slice(*warning.span)] == "Cadmium Red"
    assert read("PR112 Cadmium Red").kinds == ("misleading-name",)


@pytest.mark.parametrize(
    "text",
    [
        "No. 148 Alizarin Crimson Hue · Laque de garance (imit.) | Pigments: PR177, PV19",
        "JAUNE DE CADMIUM IMIT. n° 623 — Huile extra-fine — Pigments : PY 74 - PR 254",
        "239 Kadmiumrotton / Cadmium Red Tone; Acrylfarbe; Pigmente: PR 254 + PO 73",
    ],
)
def test_numbers_before_and_behind_a_name_do_not_hide_it(text: str) -> None:
    assert read(text).kinds.count("hue-paint") == 1


def test_a_sentence_on_the_label_is_not_taken_for_its_name() -> None:
    text = "This colour mixes well with any cadmium red and replaces it. Pigment: PR254"
    assert read(text).kinds == ()


def test_a_hue_paint_without_declared_pigments_is_still_one() -> None:
    assert read("", name="Cadmium Red Hue").kinds == ("nothing-declared", "hue-paint")
    assert read("", name="Cadmium Red").kinds == ("nothing-declared",)


def test_the_colour_of_an_unknown_code_is_told_by_its_letters() -> None:
    assert read("PY999", name="Permanent Yellow").kinds == ("unknown-code",)
    assert set(read("PY999", name="Permanent Blue").kinds) == {"unknown-code", "hue-disagrees"}
