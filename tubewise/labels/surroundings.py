"""What stands around a would-be code and shows that it is no pigment: lots, addresses, units."""

from __future__ import annotations

import re

_LOT_BEFORE = re.compile(
    r"(?:\b(?:LOT|LOTE|LOTTO|LOTNR|BATCH|CHARGE|CHARGEN|CHARGENNR|PARTIE|PARTIJ|PARTIA|PARTI|SERIA|"
    r"B/N|BN|P/N|S/N|M/N|SKU|EAN|UPC|ISBN|EXP|MHD|BBE|MFG|MODEL|MODELL|MODELE|MODELO|MODELLO|"
    r"REF|ARTIKEL|ARTICLE|ARTICULO|ARTICOLO|ARTIGO|ITEM|INVOICE|PAGE|PAGINA|SEITE|BARCODE|"
    r"(?:ART|MOD|CAT)(?=[.#:]|[ -]N)|"
    r"(?:TYPE|SERIAL|STOCK|CATALOGUE|CATALOG|BESTELL|ORDER|BAR|PRODUCT|PRODUKT|PRODUIT|VAT|TVA|IVA|"
    r"MWST)(?=[ .:/#-]*\b(?:NO|NR|NUM|NUMBER|NUMMER|NUMERO|CODE|KOD|ID)\b)"
    r")\b(?:[ .:/#-]*\b(?:NO|NR|NUM|NUMBER|NUMMER|NUMERO|CODE|KOD|ID)\b)?|\bL(?=[:#.]))"
    r"[ .:/#-]*$"
)
_REFERENCE = re.compile(r"\bREF[ .:]*$")
_JOINED = re.compile(r" ?[/+&] ?P[. ]?(?:BK|BR|[YORVBGWM])[. ]?\d")
_BOX_BEFORE = re.compile(
    r"\b(?:P\.? ?O\.? ?)?(?:BOX|POSTFACH|POSTBUS|BOITE POSTALE|CASELLA POSTALE|APARTADO|PUDLO|"
    r"SKRYTKA)[ .:]*$"
)
_POSTCODE = re.compile(r"[A-Z]{1,2}\d[A-Z\d]? \d[ABD-HJLNP-UW-Z]{2}(?![A-Z0-9])")
_ADDRESS = re.compile(
    r"\b(?:ROAD|RD|STREET|LANE|AVENUE|AVE|MADE (?:BY|IN|FOR)|DISTRIBUTED|IMPORTED|IMPORTER|"
    r"HERGESTELLT|HERSTELLER|VERTRIEB|IMPORTEUR|FABRIQUE|FABRICANT|DISTRIBUE|PRODOTTO DA|FABRICADO|"
    r"DISTRIBUIDO|GEPRODUCEERD|TILLVERKAD|FREMSTILLET|WYPRODUKOWANO|PRODUCENT|ENGLAND|SCOTLAND|"
    r"WALES|UNITED KINGDOM|U\.?K|GERMANY|LTD|LIMITED|PLC|GMBH|ESTATE|HIGH ST|UNIT \d+|RUE|"
    r"[A-Z]*STRASSE|[A-Z]+STR|[A-Z]*STRAAT|CALLE|AVENIDA|VIALE|PIAZZA|ULICA|UL|GATAN|VEJ)\b"
)
_POST_AREAS = ("PO", "PR", "NR", "NG", "BR", "BB", "NW")
_UNIT_AFTER = re.compile(
    r" ?(?:X ?\d+ ?)?(?:(?:MLS?|CL|DL|KG|GR|GRAMS?|OZ|FL|CC|MM|CM|PPM|LBS?)\b|"
    r"(?:[%€$£]|EUR\b|USD\b|GBP\b)(?! ?\d))"
)
_DATE_AFTER = re.compile(r"[/.-](?:\d{1,2}[/.-]\d{2,4}|(?:19|20)\d\d)(?!\d)")
_DECIMAL_AFTER = re.compile(r"[.,]\d+ ?(?:ML|CL|L|KG|G|OZ|FL|MM|CM|%|€|\$|£)")
_WEB = re.compile(
    r"(?:HTTPS?://|WWW\.)\S+|[^\s@]{1,64}@\S+|"
    r"\b[A-Z0-9-]{1,63}\.(?:COM|NET|ORG|INFO|SHOP|ART|DE|FR|IT|ES|PT|NL|SE|DK|PL|EU|CO\.UK|UK)\b\S*"
)
_CLAUSE_END = re.compile(r"[\n;|]|\. | - ")


def is_elsewhere(text: str, start: int, end: int, *, announced: bool = False) -> bool:
    """Whether the folded stretch `start:end` belongs to a lot, an address, an amount or a date.

    One `announced` by "Pigment:" or another code before it is no half of a postcode.
    """
    before = text[max(0, start - 36) : start]
    last = before.rstrip(" .:/#-")[-1:]
    if last.isalpha() and (_LOT_BEFORE.search(before) or _BOX_BEFORE.search(before)):
        # A reference is one number; what is joined to a second code is a list of pigments.
        return not (_REFERENCE.search(before) and _JOINED.match(text, end))
    if _UNIT_AFTER.match(text, end) or _DATE_AFTER.match(text, end):
        return True
    if _DECIMAL_AFTER.match(text, end) or _POSTCODE.match(text, start):
        return True
    if not announced and text.startswith(_POST_AREAS, start) and end - start <= 4:
        return bool(_ADDRESS.search(_clause(text, start, end)))
    return False


def _clause(text: str, start: int, end: int) -> str:
    """The sentence or line around `start:end`."""
    opening = 0
    for found in _CLAUSE_END.finditer(text, max(0, start - 160), start):
        opening = found.end()
    closing = _CLAUSE_END.search(text, end)
    return text[opening : closing.start() if closing else len(text)]


def without_web(text: str) -> str:
    """The same folded text with web and mail addresses blanked out, offsets unchanged."""
    if "@" not in text and "." not in text and "://" not in text:
        return text
    return _WEB.sub(lambda found: "\x00" * len(found.group()), text)
