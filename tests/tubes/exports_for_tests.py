"""Fourteen invented shop exports, written without a look at the reader, and the tubes they mean."""

from __future__ import annotations

from dataclasses import dataclass

from tests.tubes.test_exports import opendocument, workbook

# name, pigments, size in ml, price, stock (None: not a count)
Meant = tuple[str, str, float, float, int | None]


@dataclass(frozen=True)
class ShopExport:
    """A file as a shop sends it, and what a painter reads in it."""

    title: str
    data: bytes
    ending: str
    meant: tuple[Meant, ...]


def _text(title: str, text: str, encoding: str, *meant: Meant, ending: str = "csv") -> ShopExport:
    return ShopExport(title, text.encode(encoding), ending, meant)


def _cells(text: str) -> list[list[object]]:
    return [list(line.split("|")) for line in text.splitlines()]


EXPORTS = (
    _text(
        "German, semicolons, cp1252, title rows",
        "Preisliste Herbst\n\n"
        "Marke;Sorte;Technik;Artikelbezeichnung;Pigment;Füllmenge;Preis;Lager\n"
        "Oakfen;Fenland;Öl;Grüne Erde;PG23;40 ml;12,50 €;7\n"
        "Oakfen;Fenland;Öl;Weiß gemischt;PW6, PW4;200ml;21,00 €;0\n",
        "cp1252",
        ("Grüne Erde", "PG23", 40, 12.5, 7),
        ("Weiß gemischt", "PW6 PW4", 200, 21.0, 0),
    ),
    _text(
        "German, UTF-8 with a mark, a sum below",
        "Hersteller;Serie;Medium;Farbname;Pigmente;Inhalt;VK;Bestand\r\n"
        "Oakfen;Moor;Aquarell;Gebrannte Siena;PBr7;15 ml;9,95;12 Stück\r\n"
        "Oakfen;Moor;Aquarell;Indigo;PB60/PBk6;5 ml;6,40;ausverkauft\r\nGesamt;;;;;;16,35;12\r\n",
        "utf-8-sig",
        ("Gebrannte Siena", "PBr7", 15, 9.95, 12),
        ("Indigo", "PB60 PBk6", 5, 6.4, 0),
    ),
    _text(
        "French, Mac Roman",
        "Marque;Gamme;Technique;Désignation;Pigments;Contenance;Prix TTC;Stock\n"
        "Oakfen;Fenland;Huile;Bleu de céruléum;PB35;37 ml;24,90 €;2\n"
        "Oakfen;Fenland;Huile;Vert émeraude;PG18;37 ml;18,00 €;épuisé\n",
        "mac-roman",
        ("Bleu de céruléum", "PB35", 37, 24.9, 2),
        ("Vert émeraude", "PG18", 37, 18.0, 0),
    ),
    _text(
        "French, UTF-16 with tabs",
        "Fabricant\tSérie\tMédium\tNom\tPigment\tVolume\tPrix\tQuantité\n"
        "Oakfen\tMoor\tAquarelle\tOcre jaune\tPY43\t14 ml\t7,20\t5 pièces\n",
        "utf-16",
        ("Ocre jaune", "PY43", 14, 7.2, 5),
        ending="tsv",
    ),
    _text(
        "Spanish, Latin-1",
        "Marca;Serie;Técnica;Descripción;Pigmentos;Contenido;Precio;Existencias\n"
        "Oakfen;Fenland;Óleo;Añil;PB66;40 ml;11,30 EUR;4 uds\n"
        "Oakfen;Fenland;Óleo;Sombra tostada;PBr7;40 ml;8,10 EUR;agotado\n",
        "latin-1",
        ("Añil", "PB66", 40, 11.3, 4),
        ("Sombra tostada", "PBr7", 40, 8.1, 0),
    ),
    _text(
        "Spanish, UTF-8, columns in another order",
        "Precio,Nombre,Pigmento,Marca,Gama,Medio,Tamaño,Stock\n"
        '"1.012,50",Rojo de cadmio,PR108,Oakfen,Fenland,acrílico,1 l,1\n',
        "utf-8",
        ("Rojo de cadmio", "PR108", 1000, 1012.5, 1),
    ),
    _text(
        "Italian, cp850",
        "Marca;Linea;Tecnica;Nome colore;Pigmenti;Contenuto;Prezzo;Giacenza\n"
        "Oakfen;Fenland;Olio;Nero d'avorio più;PBk9;60 ml;9,00;3 pz\n",
        "cp850",
        ("Nero d'avorio più", "PBk9", 60, 9.0, 3),
    ),
    _text(
        "English, quoted commas, ounces",
        "Brand,Range,Medium,Product name,Pigments,Size,RRP,Qty\n"
        'Oakfen,Fenland,Acrylic,"Green, sap",PG7/PY42,2 fl oz,£6.50,>10\n'
        "Oakfen,Fenland,Acrylic,Titanium white,PW6,59 ml / 2 US fl. oz,£5.25,discontinued\n",
        "utf-8",
        ("Green, sap", "PG7 PY42", 59.1, 6.5, 10),
        ("Titanium white", "PW6", 59, 5.25, None),
    ),
    _text(
        "English, centilitres and pans",
        "Maker;Line;Medium;Colour;Pigment;Size;Price;In stock\n"
        "Oakfen;Moor;Watercolour;Rose;PV19;1.5 cl;8.00;6 pcs\n"
        "Oakfen;Moor;Watercolour;Viridian;PG18;half pan;4.00;out of stock\n",
        "cp1252",
        ("Rose", "PV19", 15, 8.0, 6),
        ("Viridian", "PG18", 1.5, 4.0, 0),  # a half pan: common practice, no source
    ),
    _text(
        "German, a sum in the middle and one below",
        "Hersteller;Serie;Medium;Bezeichnung;Pigmente;Inhalt;VK brutto;Bestand\n"
        "Oakfen;Fenland;Acryl;Chromoxidgrün;PG17;0,5 l;19,90 €;ca. 5\nZwischensumme;;;;;;19,90 €;\n"
        "Oakfen;Fenland;Gouache;Lampenschwarz;PBk7;20 ml;4,10 €;9\nSumme;;;;;;24,00 €;\n",
        "utf-8",
        ("Chromoxidgrün", "PG17", 500, 19.9, 5),
        ("Lampenschwarz", "PBk7", 20, 4.1, 9),
    ),
    ShopExport(
        "XLSX, two sheets",
        workbook(
            (
                "Öl",
                _cells(
                    "Marke|Serie|Medium|Bezeichnung|Pigmente|Inhalt|Preis|Bestand\n"
                    "Oakfen|Fenland|Öl|Umbra|PBr7|40 ml|8,00|2"
                ),
                True,
            ),
            (
                "Acryl",
                _cells(
                    "Marke|Serie|Medium|Bezeichnung|Pigmente|Inhalt|Preis|Bestand\n"
                    "Oakfen|Fenland|Acryl|Türkis|PB16|75 ml|7,00|1"
                ),
                True,
            ),
        ),
        "xlsx",
        (("Umbra", "PBr7", 40, 8.0, 2), ("Türkis", "PB16", 75, 7.0, 1)),
    ),
    ShopExport(
        "XLSX, Italian, a title and a total",
        workbook(
            (
                "Listino",
                _cells(
                    "Listino prezzi\n\nMarca|Linea|Tecnica|Descrizione|Pigmento|Formato|Prezzo|"
                    "Disponibilità\nOakfen|Moor|Acquerello|Terra verde|PG23|10 ml|6,00|esaurito\n"
                    "Totale||||||6,00|"
                ),
                True,
            ),
        ),
        "xlsx",
        (("Terra verde", "PG23", 10, 6.0, 0),),
    ),
    ShopExport(
        "ODS, French",
        opendocument(
            _cells(
                "Marque|Gamme|Technique|Couleur|Pigments|Contenance|Prix|Stock\n"
                "Oakfen|Fenland|Acrylique|Magenta|PR122|2 x 60 ml|13,00 €|8"
            )
        ),
        "ods",
        (("Magenta", "PR122", 120, 13.0, 8),),
    ),
    ShopExport(
        "ODS, German, a title above",
        opendocument(
            _cells(
                "Lagerliste\nHersteller|Serie|Medium|Farbton|Pigmente|Größe|VK-Preis|Menge\n"
                "Oakfen|Moor|Aquarell|Neapelgelb|PBr24|15 ml|10,00|3 Stk."
            )
        ),
        "ods",
        (("Neapelgelb", "PBr24", 15, 10.0, 3),),
    ),
)
