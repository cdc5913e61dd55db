"""What stands on tubes and looks like a code but is none. Addresses and makers are invented."""

from __future__ import annotations

import pytest

from tubewise.labels import read

OTHER_THINGS = [
    "LOT PB2913",
    "Lot: PB29",
    "LOT NO. PV23",
    "Batch PR122",
    "B/N PY0342",
    "B/N PY034",
    "Charge: PG7",
    "Chargen-Nr. PB29",
    "Lotto PR108",
    "Lote n° PB60",
    "L: PB29",
    "Item PB29",
    "Ref. PB29",
    "Art.-Nr. PB29",
    "Model PR122",
    "Mod. PG36",
    "Product code PY35",
    "PB29-1234-X",
    "PB29_7",
    "A-PB29",
    "XPR122",
    "Easel PB29X",
    "PR 5L",
    "PV 37 ml",
    "PB 60 ML",
    "PR 1.25 fl.oz.",
    "PR 1,25 fl oz",
    "37 ml 1.25 fl.oz.",
    "PO Box 15",
    "P.O. Box 20",
    "Postfach 20",
    "12 Quill Lane, Marsham PR1 2AB",
    "PO20 8QT",
    "Norwold NR9 3AB",
    "Made by Oxbow & Fenn, 4 Tanner Road, Selby Quay PO20, England",
    "Bromfield BR7 5AA",
    "4 012345 678901",
    "5019319319",
    "EAN 4012345051319",
    "10115 Talstadt",
    "51319 Talstadt",
    "ASTM I",
    "LF II",
    "Lightfastness: I",
    "Blue wool 7-8",
    "Blauwollskala 8",
    "***",
    "+++",
    "AP",
    "CL",
    "Series 3",
    "Serie 2",
    "Nr. 9",
    "Nr 9",
    "Farbton Nr. 9",
    "No. 29",
    "see pg 7",
    "pg. 12",
    "Open 3 PM 2 days",
    "PB 29/03/2027",
    "PR 12-2027",
    "www.pr122.com",
    "info@pb29.com",
    "Verfhuis B.V. 12",
    "Conforms to ASTM D-4236",
    "EN71-3",
    "Pigment concentration 25 %",
    "Pigment: 12 %",
    "Pigment blue 37 ml",
    "Natural white 12 g",
]


@pytest.mark.parametrize("text", OTHER_THINGS)
def test_no_pigment_is_seen(text: str) -> None:
    reading = read(text)
    assert reading.pigments == ()
    assert reading.kinds == ("nothing-declared",)


IN_FIVE_LANGUAGES = """QUINACRIDONE ROSE · Chinacridon Rosa · Rose de quinacridone
Rosa di chinacridone · Rosa de quinacridona
Artists' Oil Colour, Series 4, semi-transparent, ASTM I, LF **, Blue Wool 7-8
Pigment/Pigment/Pigmento/Pigmento: PV19 (C.I. 73900)   Binder/Bindemittel/Liant: linseed oil
37 ml e 1.25 fl.oz.   No 29   Art.-Nr. 104 PR 012   REF PB60
Made in England by Oxbow & Fenn Ltd, Unit 7, Tanner Road, Selby Quay PO20 8QT. P.O. Box 15
Hergestellt von Oxbow & Fenn, Postfach 122, 51319 Talstadt. Tél. 01 23 45 67 89
CL: caution, keep from children. Conforms to ASTM D-4236. EN 71-3. UKCA
LOT PB2913  B/N PY0342  EXP 12/2031  5 019319 073900 www.oxbow-pr122.com info@pb29.com"""


def test_the_whole_back_of_a_tube_declares_one_pigment() -> None:
    reading = read(IN_FIVE_LANGUAGES)
    assert reading.refs == ("PV19/gamma",)
    assert reading.pigments[0].constitution == "73900"
    assert reading.kinds == ()


def test_an_address_and_a_batch_line_beside_real_codes() -> None:
    text = (
        "Pigments: PO20, PW6. Oxbow & Fenn, 14 Mill Road, Selby Quay PO20, England. "
        "Lot PR101. Serie 3, PO Box 36"
    )
    assert read(text).codes == ("PO20", "PW6")
    assert read(text).pigments[0].span == (10, 14)


def test_a_code_among_pigments_is_no_half_postcode() -> None:
    text = "Pigments : PO 13 - PR 9 — 75 ml — Atelier Brune, 7 rue du Lavoir, 00150 Corvelle"
    assert read(text).codes == ("PO13", "PR9")


@pytest.mark.parametrize("group", ["PG 2", "PG 4"])
def test_a_german_price_group_behind_the_pigments(group: str) -> None:
    assert read(f"Pigmente: PY3/PG7/PW6; {group}; 20 ml").codes == ("PY3", "PG7", "PW6")
    assert read("Pigmente: PY 3; PG 7").codes == ("PY3", "PG7")


def test_the_same_letters_are_a_code_where_pigments_are_named() -> None:
    assert read("Pigment: PO20").codes == ("PO20",)
    assert read("Pigments: pg 7, pr 122").codes == ("PG7", "PR122")
    assert read("pv19 + pg 7").codes == ("PV19", "PG7")
