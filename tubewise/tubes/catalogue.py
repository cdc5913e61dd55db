"""Catalogues and boxes: tubes read from spreadsheets and written to them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from tubewise.errors import UserError
from tubewise.tables.cells import Cell, text_of
from tubewise.tables.grid import Row
from tubewise.tables.headers import Table, find_table, heading, refuse
from tubewise.tables.numerals import number_text
from tubewise.tables.spreadsheet import read_grids, write_tables
from tubewise.tubes import fields
from tubewise.tubes.box_tables import box_tables, no_header
from tubewise.tubes.cell_of_tubes import TUBES, BoxHeadings, is_further_tube, tubes_in
from tubewise.tubes.columns import COLUMNS
from tubewise.tubes.folded import folded
from tubewise.tubes.tube import Box, Tube

# Headings met in shops' and makers' lists: English, German, French, Spanish, Italian, Dutch.
_SYNONYMS = {
    "seat": "seat|student|participant|person|owner|platz|teilnehmer|teilnehmerin|place|participante"
    "|asiento|posto|deelnemer",
    "maker": "maker|brand|manufacturer|hersteller|marke|marque|fabricant|fabricante|marca|merk"
    "|produzent|produttore|casa|vendor",
    "line": "line|range|series name|product line|serie name|sortiment|gamme|gama|linea|lijn"
    "|produktlinie|linie|collection|collezione|coleccion|assortiment",
    "grade": "grade|quality|qualitat|qualite|calidad|qualita|kwaliteit",
    "medium": "medium|paint type|technique|technik|art|medio|tecnica|techniek|type|farbart|typ"
    "|type de peinture|tipo|tipo de pintura|tipo di colore",
    "name": "name|colour name|color name|colour|color|paint|farbname|farbe|farbton|bezeichnung"
    "|artikelbezeichnung|nom|designation|couleur|nombre|nome|denominazione|colore|naam|kleur"
    "|product|product name|description|artikel|artikelname|produkt|produktname|produit|libelle"
    "|article|producto|descripcion|articulo|denominacion|prodotto|descrizione|articolo|item",
    "label": "label|pigment|pigments|pigmento|pigmentnummer|pigment code|pigment codes|etikett"
    "|pigmente|etiquette|etiqueta"
    "|pigmentos|etichetta|pigmenti|etiket|pigmenten|ci|c i|colour index|color index|ci name|pigm"
    "|code|codes|codigo|codice|pigment s|codes pigment"
    "|code pigment|codigo de pigmento|codice pigmento|pigmentcode",
    "size_ml": "size ml|size|ml|volume|volume ml|content|inhalt|inhalt ml|contenance|taille"
    "|tamano|contenido|contenuto|formato|inhoud|contents|pack|pack size|unit size|gebinde|grosse"
    "|fullmenge|conditionnement|format|volumen|envase|capacita|formato ml|contenance ml",
    "price": "price|unit price|retail price|preis|vk|vk brutto|bruttopreis|prix|prix ttc|precio|pvp"
    "|prezzo|prijs|rrp|srp|msrp|uvp|verkaufspreis|ladenpreis|einzelpreis|vk preis|preis eur"
    "|prix public|prix de vente|prix unitaire|tarif|precio venta|precio unitario|prezzo al pubblico"
    "|prezzo unitario|listino|price eur|prix eur|precio eur|prezzo eur|price gbp|price incl vat",
    "currency": "currency|wahrung|devise|monnaie|moneda|divisa|valuta",
    "stock": "stock|in stock|quantity|qty|bestand|lager|vorrat|quantite|existencias|giacenza"
    "|voorraad|stock level|on hand|qty on hand|availability|lagerbestand|lagermenge|verfugbarkeit"
    "|verfugbar|qte|qte en stock|disponibilite|cantidad|disponibilidad|quantita|disponibilita"
    "|scorta|unidades",
    "swatch_lab": "swatch lab|lab|cielab|swatch cielab",
    "swatch_hex": "swatch hex|hex|rgb hex|swatch",
    "swatch_geometry": "swatch geometry|geometry|specular|specular component|messgeometrie"
    "|geometrie|geometria",
}
_NAMES = {word: column for column, words in _SYNONYMS.items() for word in words.split("|")}
CATALOGUE_NAMES = {word: column for word, column in _NAMES.items() if column != "seat"}
_BOX_NAMES = BoxHeadings(_NAMES)


def is_seat_heading(text: str) -> bool:
    """Whether a heading says whose a tube is."""
    return _NAMES.get(heading(text)) == "seat"


# One of these says which tube a row is.
_OWN = ("name", "label")

_T = TypeVar("_T")


def read_catalogue(path: str | Path) -> list[Tube]:
    """Tubes of a CSV or XLSX catalogue, in file order; a row given twice counts once.

    Raises UserError that lists every problem by row and column, rows that contradict each other
    included; then nothing is read.
    """
    problems: list[str] = []
    tubes: list[Tube] = []
    first: dict[str, tuple[str, Tube]] = {}
    tables = tables_of(path, CATALOGUE_NAMES, (("name", "label"),))
    for table in tables:
        problems += table.problems
        for row in table.rows:
            tube = tube_of_row(table, row, problems)
            if tube is not None:
                add_tube(tube, table.place(row), first, tubes, problems)
    refuse(Path(path).name, problems, "the catalogue")
    if not tubes:
        raise UserError("The catalogue has a header but no tubes.", where=Path(path).name)
    return tubes


def read_boxes(path: str | Path) -> list[Box]:
    """Boxes of a CSV or XLSX file, in the order in which their seats first appear.

    A row is a tube, or a person whose tubes stand in one cell or in several (Tube 1, Tube 2). A
    blank seat means the seat of the row above, as in merged cells. Rows may be sparse: a name, a
    label or both will do. Raises UserError as `read_catalogue` does.
    """
    problems: list[str] = []
    boxes: dict[str, tuple[str, list[Tube]]] = {}
    first: dict[str, dict[str, tuple[str, Tube]]] = defaultdict(dict)
    for table in box_tables(path, _BOX_NAMES):
        problems += table.problems
        seat = ""
        for row in table.rows:
            seat = table.value(row, "seat", fields.read_name, "", problems) or seat
            if not seat:
                problems.append(f"{table.place(row, 'seat')}: nobody is named here or above")
                continue
            _, own = boxes.setdefault(folded(seat), (seat, []))
            for tube in _tubes_of(table, row, problems):
                _add_owned(tube, table.place(row), first[folded(seat)], own, problems)
    refuse(Path(path).name, problems, "the boxes")
    if not boxes:
        raise UserError("The file of boxes has a header but no tubes.", where=Path(path).name)
    return [Box(seat, tuple(tubes)) for seat, tubes in boxes.values()]


def _tubes_of(table: Table, row: Row, problems: list[str]) -> list[Tube]:
    """The tubes of one row: its own, and those written into one cell."""
    cells = [
        table.cell(row, TUBES),
        *(v for k, v in table.extra(row).items() if is_further_tube(k)),
    ]
    listed = [tube for cell in cells for tube in tubes_in(text_of(cell))]
    if TUBES in table.columns and not any(table.cell(row, column) for column in _OWN):
        return listed
    tube = tube_of_row(table, row, problems, seat=True)
    return [*([tube] if tube is not None else []), *listed]


def _add_owned(
    tube: Tube,
    place: str,
    first: dict[str, tuple[str, Tube]],
    tubes: list[Tube],
    problems: list[str],
) -> None:
    """Add a tube of somebody's; one that lies there twice counts once, whatever its remark is."""
    earlier = first.get(tube.id)
    if earlier is not None and _owned(earlier[1]) == _owned(tube):
        return
    add_tube(tube, place, first, tubes, problems)


def _owned(tube: Tube) -> Tube:
    """What of a row tells which paint somebody has."""
    return _folded(replace(tube, price=None, currency="", stock=None, extra={}))


def write_catalogue(path: str | Path, tubes: Iterable[Tube]) -> None:
    """Write tubes as CSV or XLSX; `read_catalogue` reads the same tubes back."""
    rows = list(tubes)
    extras = _extra_columns(rows, COLUMNS)
    write_tables(
        path,
        [("tubes", [*COLUMNS, *extras.values()], [_cells(tube, list(extras)) for tube in rows])],
    )


def write_boxes(path: str | Path, boxes: Iterable[Box]) -> None:
    """Write boxes as CSV or XLSX; `read_boxes` reads them back. An empty box keeps its row."""
    kept = list(boxes)
    columns = ("seat", *COLUMNS)
    extras = _extra_columns([tube for box in kept for tube in box.tubes], columns)
    rows: list[list[Cell]] = []
    for box in kept:
        rows.extend([box.seat, *_cells(tube, list(extras))] for tube in box.tubes)
        if not box.tubes:
            rows.append([box.seat])
    write_tables(path, [("boxes", [*columns, *extras.values()], rows)])


# ---------------------------------------------------------------- rows into tubes


def tables_of(
    path: str | Path, names: Mapping[str, str], needed: Sequence[Sequence[str]]
) -> list[Table]:
    """The sheets of a file that have the columns needed. Raises UserError where none has."""
    found = [find_table(grid, names, needed) for grid in read_grids(path, frozenset(names))]
    tables = [table for table in found if table is not None]
    if not tables:
        raise no_header(Path(path).name, needed)
    return tables


def _only_seat(table: Table, row: Row) -> bool:
    """Whether the row names a seat and nothing else: somebody who brings no paint."""
    at = table.columns.get("seat")
    return all(cell == "" for n, cell in enumerate(row.cells) if n != at)


def tube_of_row(table: Table, row: Row, problems: list[str], *, seat: bool = False) -> Tube | None:
    """The row as a tube; faults go to `problems`."""

    def get(column: str, read: Callable[[Cell], _T], blank: _T) -> _T:
        return table.value(row, column, read, blank, problems)

    def short(cell: Cell) -> str:
        return " ".join(fields.read_text(cell, longest=500).split())

    if seat and _only_seat(table, row):
        return None
    before = len(problems)
    none: tuple[float | None, str] = (None, "")
    price, written = get("price", fields.read_price, none)
    currency = get("currency", lambda cell: fields.read_currency(fields.read_text(cell)), "")
    if written and currency and written != currency:
        problems.append(
            f"{table.place(row, 'price')}: is written in {written}, but the column currency says "
            f"{currency}"
        )
    no_lab: tuple[float, float, float] | None = None
    no_number: float | None = None
    no_count: int | None = None
    tube = Tube(
        maker=get("maker", short, ""),
        line=get("line", short, ""),
        grade=get("grade", fields.read_grade, ""),
        medium=get("medium", fields.read_medium, ""),
        name=get("name", short, ""),
        label=get("label", fields.read_codes, ""),
        size_ml=get("size_ml", fields.read_size, no_number),
        price=price,
        currency=currency or written,
        stock=get("stock", fields.read_stock, no_count),
        swatch_lab=get("swatch_lab", fields.read_lab, no_lab),
        swatch_hex=get("swatch_hex", fields.read_hex, ""),
        swatch_geometry=get("swatch_geometry", fields.read_geometry, ""),
        extra={**table.extra(row), **_as_written(table, row)},
    )
    if len(problems) > before:
        return None
    if not tube.name and not tube.label:
        problems.append(f"{table.place(row)}: has neither a name nor a label; give one of them")
        return None
    return tube


def _as_written(table: Table, row: Row) -> dict[str, str]:
    """A size or a stock in the shop's own words where they say more than the value read."""
    cells = {column: table.cell(row, column) for column in ("size_ml", "stock")}
    return {
        f"{column.removesuffix('_ml')} as written": text_of(cell)
        for column, cell in cells.items()
        if fields.says_more(column, cell)
    }


def add_tube(
    tube: Tube,
    place: str,
    first: dict[str, tuple[str, Tube]],
    tubes: list[Tube],
    problems: list[str],
) -> None:
    """Add a tube, fold it into an equal one, or tell how it contradicts an earlier one."""
    if tube.id not in first:
        first[tube.id] = (place, tube)
        tubes.append(tube)
        return
    earlier_place, earlier = first[tube.id]
    if _folded(tube) == _folded(earlier):
        return
    problems_found = []
    for column in (*COLUMNS, "extra"):
        old, new = getattr(earlier, column), getattr(tube, column)
        if column == "extra":
            problems_found += [
                f"{key} “{old.get(key, '')}” and “{new.get(key, '')}”"
                for key in dict.fromkeys([*old, *new])
                if old.get(key) != new.get(key)
            ]
        elif old != new:
            problems_found.append(
                f"{column} “{shown(column, earlier)}” and “{shown(column, tube)}”"
            )
    problems.append(
        f"{place} contradicts {earlier_place}: the same tube ({tube.title}) with "
        f"{', '.join(problems_found)}; remove or mend one of them"
    )


def _folded(tube: Tube) -> Tube:
    """The tube with differences of case and blanks in maker, line and name put away."""
    return replace(
        tube,
        maker=folded(tube.maker),
        line=folded(tube.line),
        name=folded(tube.name),
        label=" ".join(tube.label.split()),
    )


def shown(column: str, tube: Tube) -> str:
    """The value of a column as its cell shows it."""
    return text_of(_cell(column, tube))


def _cell(column: str, tube: Tube) -> Cell:
    value = getattr(tube, column)
    if value is None:
        return ""
    if column == "swatch_lab":
        return ", ".join(number_text(v) for v in value)
    if isinstance(value, (int, float)):
        return float(value)
    return str(value)


def _cells(tube: Tube, extras: Sequence[str]) -> list[Cell]:
    return [
        *(_cell(column, tube) for column in COLUMNS),
        *(tube.extra.get(key, "") for key in extras),
    ]


def _extra_columns(tubes: Iterable[Tube], columns: Sequence[str]) -> dict[str, str]:
    """Extra keys in order of appearance, each with a header that no known column reads."""
    keys = dict.fromkeys(key for tube in tubes for key in tube.extra)
    names = _NAMES if "seat" in columns else CATALOGUE_NAMES
    return {key: f"{key} (other)" if heading(key) in names else key for key in keys}
