"""The word for pigment and the hue, in the languages of tubes."""

from __future__ import annotations

import pytest

from tubewise.labels import read

SPOKEN = [
    ("Pigment Rot 122", "PR122"),
    ("Pigmentrot 122", "PR122"),
    ("Pigment-Rot 122", "PR122"),
    ("Pigmentviolett 23", "PV23"),
    ("Pigmentgrün 7", "PG7"),
    ("Pigmentgruen 7", "PG7"),
    ("Pigmentweiß 6", "PW6"),
    ("Pigmentschwarz 9", "PBk9"),
    ("Pigment bleu 15:3", "PB15:3"),
    ("Pigment rouge n° 122", "PR122"),
    ("pigment jaune 74", "PY74"),
    ("Pigment violet 23", "PV23"),
    ("Pigment brun 7, terre de Sienne brûlée", "PBr7"),
    ("Pigmento Azul 29", "PB29"),
    ("Pigmento rojo 122", "PR122"),
    ("Pigmento blanco 6", "PW6"),
    ("Pigmento rosso 122", "PR122"),
    ("Pigmento giallo 74", "PY74"),
    ("Pigmento Nero 9", "PBk9"),
    ("Pigmento vermelho 122", "PR122"),
    ("Pigmento amarelo 74", "PY74"),
    ("Pigment rood 122", "PR122"),
    ("Pigmentblauw 29", "PB29"),
    ("Pigment groen 7", "PG7"),
    ("Pigmentröd 122", "PR122"),
    ("Pigment blå 29", "PB29"),
    ("Pigment grønt 7", "PG7"),
    ("Pigment sort 9", "PBk9"),
    ("Pigment czerwony 122", "PR122"),
    ("Pigment żółty 74", "PY74"),
    ("pigment niebieski 29", "PB29"),
    ("Pigment fioletowy 23", "PV23"),
    ("Azul pigmento 29", "PB29"),
    ("Blue Pigment 29", "PB29"),
    ("Pigment Blue No. 29", "PB29"),
    ("Pig. Blue 29", "PB29"),
    ("Naturrot 9", "NR9"),
    ("Rouge naturel 9", "NR9"),
    ("Rosso naturale 9", "NR9"),
]


@pytest.mark.parametrize(("label", "code"), SPOKEN)
def test_hue_words_of_ten_languages(label: str, code: str) -> None:
    assert read(label).codes == (code,)
