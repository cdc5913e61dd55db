"""Exports as shops make them: five languages, odd sizes and stocks, titles, totals, encodings."""

from __future__ import annotations

import io
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.tubes.files_for_tests import written
from tubewise.demo.workshop import folder
from tubewise.errors import UserError
from tubewise.tubes.exports import Export, read_export

GERMAN = """\
Hersteller;Serie;Medium;Bezeichnung;Pigmente;Inhalt;VK brutto;Bestand
Oakfen;Fenland;Acryl;Ultramarin;PB29;37 ml e;8,90 €;>10
Oakfen;Fenland;Acryl;Zitronengelb;PY3;14 ml / 0.47 US fl. oz;8,90 €;auslaufend
Oakfen;Fenland;Acryl;Titanweiß;PW6;2 x 37 ml;15,90 €;3 Stk
Oakfen;Moor;Aquarell;Titanweiß;PW6;half pan;5,90 €;discontinued
Summe;;;;;;39,60 €;
"""
FRENCH = """\
Tarif d'automne;;;;;
Marque;Type de peinture;Libellé;Code pigment;Contenance;Prix TTC;Disponibilité
Oakfen;huile;Bleu outremer;PB 29;37 ml;11,50 €;en stock
Oakfen;huile;Jaune citron;PY3;37 ml;11,50 €;épuisé
Oakfen;huile;Blanc de titane;PW6;150 ml;18,00 €;12
Total;;;;;41,00 €;
"""
SPANISH = """\
Fabricante\tTécnica\tDenominación\tPigmentos\tEnvase\tPVP\tExistencias
Oakfen\tacuarela\tAzul ultramar\tPB29\tmedio godet\t4,20 €\t5 uds
Oakfen\tacuarela\tAmarillo limón\tPY3\tgodet\t7,10 €\tagotado
"""
ITALIAN = """\
Marca,Tecnica,Descrizione,Pigmenti,Formato,Prezzo,Giacenza
Oakfen,acrilico,Blu oltremare,PB29,"0,06 l","€ 9,90",nessuno
Oakfen,acrilico,Bianco di titanio,PW6,200 ml,"€ 14,00",più di 20
"""
ENGLISH = """\
Brand|Range|Description|CI|Pack size|RRP|On hand
Oakfen|Fenland|Ultramarine|PB29|1.25 fl oz|£7.50|7 left
Oakfen|Fenland|Lemon Yellow|PY3|37ml tube|£7.50|low stock
Oakfen|Fenland|Titanium White|PW6|120 ml|£9.95|10+
"""
BY_CONTENT = """\
Firma,Was,Drauf,Drin,Kostet
Oakfen,Ultramarin,PB29,37 ml,"8,90 €"
Oakfen,Zitronengelb,PY3,37 ml,"8,90 €"
Oakfen,Titanweiß,PW6,37 ml,"8,90 €"
"""
SECTIONS = """\
Artikelname;Pigment;Größe;UVP
Acrylfarben;;;
Ultramarin;PB29;60 ml;9,90
Zitronengelb;PY3;60 ml;9,90
Ölfarben;;;
Ultramarin fein;PB29;40 ml;12,90
"""


@dataclass(frozen=True)
class Case:
    """An export and what a shop would say is in it."""

    name: str
    data: bytes
    names: list[str]
    sizes: list[float | None]
    stock: list[int | None] = field(default_factory=list)
    ending: str = "csv"
    passed_over: str = ""


def workbook(*sheets: tuple[str, list[list[object]], bool]) -> bytes:
    import openpyxl

    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for title, rows, shown in sheets:
        sheet = book.create_sheet(title)
        for row in rows:
            sheet.append(row)
        sheet.sheet_state = "visible" if shown else "hidden"
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


def opendocument(rows: list[list[object]]) -> bytes:
    """A workbook of OpenDocument 1.3 (OASIS), as plain as one can be."""
    import zipfile
    from xml.sax.saxutils import escape

    def cell(value: object) -> str:
        if isinstance(value, (int, float)):
            return f'<table:table-cell office:value-type="float" office:value="{value}"/>'
        text = escape(str(value))
        return (
            '<table:table-cell office:value-type="string">'
            f"<text:p>{text}</text:p></table:table-cell>"
        )

    body = "".join(f"<table:table-row>{''.join(map(cell, row))}</table:table-row>" for row in rows)
    space = "urn:oasis:names:tc:opendocument:xmlns"
    content = (
        f'<?xml version="1.0"?><office:document-content xmlns:office="{space}:office:1.0" '
        f'xmlns:table="{space}:table:1.0" xmlns:text="{space}:text:1.0" office:version="1.3">'
        '<office:body><office:spreadsheet><table:table table:name="Liste">'
        f"{body}</table:table></office:spreadsheet></office:body></office:document-content>"
    )
    kind = "application/vnd.oasis.opendocument.spreadsheet"
    manifest = (
        '<?xml version="1.0"?><manifest:manifest '
        f'xmlns:manifest="{space}:manifest:1.0" manifest:version="1.3">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{kind}"/>'
        '<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/>'
        "</manifest:manifest>"
    )
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("mimetype", kind)
        archive.writestr("META-INF/manifest.xml", manifest)
        archive.writestr("content.xml", content)
    return out.getvalue()


LISTE: list[list[object]] = [
    ["Preisliste", "", "", ""],
    ["Artikel", "Pigment", "Inhalt", "Preis"],
    ["Ultramarin", "PB29", "37 ml", 8.9],
    ["Zitronengelb", "PY3", "37 ml", 8.9],
]
US = ["Ultramarin", "Zitronengelb", "Titanweiß", "Titanweiß"]
CASES = [
    Case(
        "german, utf-8",
        GERMAN.encode(),
        US,
        [37, 14, 74, 1.5],
        [10, None, 3, None],
        passed_over="total",
    ),
    Case("german, cp1252", GERMAN.encode("cp1252"), US, [37, 14, 74, 1.5]),
    Case("german, utf-16", GERMAN.encode("utf-16"), US, [37, 14, 74, 1.5]),
    Case("german, mac", GERMAN.encode("mac-roman"), US, [37, 14, 74, 1.5]),
    Case(
        "german, cp850",
        GERMAN.replace("€", "EUR").replace("Inhalt", "Größe").encode("cp850"),
        US,
        [37, 14, 74, 1.5],
    ),
    Case(
        "french",
        FRENCH.encode("iso8859-15"),
        ["Bleu outremer", "Jaune citron", "Blanc de titane"],
        [37, 37, 150],
        [1, 0, 12],
    ),
    Case("spanish", SPANISH.encode(), ["Azul ultramar", "Amarillo limón"], [1.5, 3], [5, 0], "tsv"),
    Case("italian", ITALIAN.encode(), ["Blu oltremare", "Bianco di titanio"], [60, 200], [0, 20]),
    Case(
        "english",
        ENGLISH.encode(),
        ["Ultramarine", "Lemon Yellow", "Titanium White"],
        [36.9669, 37, 120],
        [7, 1, 10],
        "txt",
    ),
    Case("by content", BY_CONTENT.encode(), ["Ultramarin", "Zitronengelb", "Titanweiß"], [37] * 3),
    Case(
        "sections",
        SECTIONS.encode(),
        ["Ultramarin", "Zitronengelb", "Ultramarin fein"],
        [60, 60, 40],
        passed_over="Ölfarben",
    ),
    Case(
        "workbook of two sheets",
        workbook(
            ("Acryl", LISTE, True),
            ("Oel", [["Name", "Code", "ml"], ["Umbra", "PBr7", 40]], True),
        ),
        ["Ultramarin", "Zitronengelb", "Umbra"],
        [37, 37, 40],
        ending="xlsx",
    ),
    Case(
        "a hidden sheet",
        workbook(("Acryl", LISTE, True), ("Einkauf", [["Name", "ml"], ["Rose", 5]], False)),
        ["Ultramarin", "Zitronengelb"],
        [37, 37],
        ending="xlsx",
        passed_over="Einkauf",
    ),
    Case(
        "opendocument", opendocument(LISTE), ["Ultramarin", "Zitronengelb"], [37, 37], ending="ods"
    ),
]  # fmt: skip


def export(tmp_path: Path, data: bytes | str, ending: str = "csv", **more: object) -> Export:
    return read_export(written(tmp_path, data, f"shop.{ending}"), **more)  # type: ignore[arg-type]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_an_export_is_read_as_its_shop_means_it(case: Case, tmp_path: Path) -> None:
    found = export(tmp_path, case.data, case.ending)
    assert [t.name for t in found.tubes] == case.names
    assert [t.size_ml for t in found.tubes] == case.sizes
    assert all(t.refs for t in found.tubes)
    if case.stock:
        assert [t.stock for t in found.tubes] == case.stock
    assert case.passed_over in " ".join(found.passed_over)
    assert not found.doubts and not found.left_out


def test_words_of_size_and_stock_are_kept_as_written(tmp_path: Path) -> None:
    first, second, third, _ = export(tmp_path, GERMAN).tubes
    assert first.extra["stock as written"] == ">10"
    assert second.extra["stock as written"] == "auslaufend" and second.stock is None
    assert third.extra["size as written"] == "2 x 37 ml"


def test_how_each_column_was_taken_is_said(tmp_path: Path) -> None:
    how = {m.heading: m.words for m in export(tmp_path, GERMAN).mapping}
    assert how["Bezeichnung"] == "“Bezeichnung” is the name (by its heading)"
    assert how["Serie"] == "“Serie” is the line (by what stands in it)"


def test_a_column_can_be_told(tmp_path: Path) -> None:
    told = {"Serie": "ignored", "Medium": "line"}
    tube = export(tmp_path, GERMAN, chosen=told).tubes[0]
    assert tube.line == "Acryl" and tube.medium == "" and "Serie" not in tube.extra
    with pytest.raises(UserError, match="columns are Hersteller"):
        export(tmp_path, GERMAN, chosen={"Serien": "line"})
    with pytest.raises(UserError, match="is no column"):
        export(tmp_path, GERMAN, chosen={"Serie": "lines"})


def test_what_was_told_before_holds_where_the_heading_is_there(tmp_path: Path) -> None:
    told = {"Serie": "ignored", "Elsewhere": "name"}
    assert export(tmp_path, GERMAN, remembered=told).tubes[0].line == ""


def test_without_a_name_that_is_said_once(tmp_path: Path) -> None:
    rows = "".join(f"Oakfen;37 ml;{n};x{n}\n" for n in range(30))
    with pytest.raises(UserError, match="No column says what the paints are called") as refused:
        export(tmp_path, "Hersteller;Inhalt;Preis;label\n" + rows.replace("x", "PY"))
    assert not refused.value.problems


def test_rows_that_cannot_be_read_are_listed_and_left_out_on_request(tmp_path: Path) -> None:
    broken = GERMAN.replace("3 Stk", "ein paar").replace("37 ml e", "XXL")
    with pytest.raises(UserError, match="nothing was read"):
        export(tmp_path, broken)
    found = export(tmp_path, broken, lenient=True)
    assert [t.name for t in found.tubes] == ["Zitronengelb", "Titanweiß"]
    assert len(found.left_out) == 2 and "row 2, column size_ml" in found.left_out[0]


def test_hidden_rows_are_not_read_as_if_seen(tmp_path: Path) -> None:
    import openpyxl

    path = tmp_path / "shop.xlsx"
    path.write_bytes(workbook(("Acryl", LISTE, True)))
    book = openpyxl.load_workbook(path)
    book["Acryl"].row_dimensions[3].hidden = True
    book.save(path)
    found = read_export(path)
    assert [t.name for t in found.tubes] == ["Zitronengelb"]
    assert "1 hidden row was passed over" in found.passed_over[0]


@pytest.mark.parametrize("at", range(120, len(GERMAN.encode()), 7))
def test_a_file_cut_short_is_refused_or_ends_with_a_whole_row(at: int, tmp_path: Path) -> None:
    data = GERMAN.encode()[:at]
    try:
        found = export(tmp_path, data)
    except UserError:
        return
    assert data.endswith(b"\n") or len(data.splitlines()) < 4
    assert {t.name for t in found.tubes} <= set(US)


def test_no_cut_of_the_demo_s_catalogue_changes_a_tube(tmp_path: Path) -> None:
    data = (folder() / "catalogue.csv").read_bytes()
    whole = {t.id: t for t in export(tmp_path, data).tubes}
    step = len(data) // 60
    for at in range(len(data) // 2, len(data) - 1, step):
        try:
            found = export(tmp_path, data[:at])
        except UserError:
            continue
        assert all(whole.get(t.id) == t for t in found.tubes)


def test_one_may_go_on_with_a_file_that_was_cut(tmp_path: Path) -> None:
    data = GERMAN.encode()[:-60]
    with pytest.raises(UserError, match="nothing was read"):
        export(tmp_path, data)
    assert "cut short" in export(tmp_path, data, lenient=True).doubts[0]


@settings(max_examples=60, deadline=None)
@given(st.lists(st.lists(st.text(max_size=12), min_size=1, max_size=5), max_size=6))
def test_whatever_a_file_holds_it_is_read_or_refused_with_words(rows: list[list[str]]) -> None:
    import tempfile

    text = "\n".join(";".join(row) for row in rows)
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / "shop.csv"
        path.write_text(text, encoding="utf-8", errors="replace")
        try:
            read_export(path, lenient=True)
        except UserError as error:
            assert error.message


def test_letters_that_fit_two_encodings_are_doubted(tmp_path: Path) -> None:
    sheet = "Nome colore;Pigmento;Formato\nBlu;PB29;37 ml\nRosso;PR254;37 ml\nDi pi\x97;PW6;9 ml\n"
    found = export(tmp_path, sheet.encode("latin-1"))
    assert [t.name for t in found.tubes][:2] == ["Blu", "Rosso"]
    assert "fit several encodings" in " ".join(found.passed_over)


def test_a_heading_of_several_words_is_known_by_them(tmp_path: Path) -> None:
    sheet = "Artikel Nr;Nome colore;Codice pigmento;Formato ml\n7;Blu;PB29;37\n8;Rosso;PR254;37\n"
    found = export(tmp_path, sheet)
    assert [(t.name, t.size_ml) for t in found.tubes] == [("Blu", 37.0), ("Rosso", 37.0)]
    assert found.tubes[0].extra == {"Artikel Nr": "7"}
