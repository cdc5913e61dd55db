"""Sizes and stock as shops write them: `14 ml / 0.47 US fl. oz`, `2 x 37 ml`, `>10`, `auslaufend`.

Each reader gives the value and whether the words say more than it, so that they can be kept.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from tubewise.tables.headers import heading
from tubewise.tables.numerals import number_text

# US customary fluid ounce (NIST Handbook 44, Appendix C), to six figures.
ML_PER_FL_OZ = 29.5735
# Pans by their usual words; how much fits differs by maker (common practice, no source).
_PANS = {
    "half pan": 1.5, "half pans": 1.5, "1 2 pan": 1.5, "1 2 pans": 1.5, "halber napf": 1.5,
    "halbes napfchen": 1.5, "halbnapf": 1.5, "1 2 napf": 1.5, "1 2 napfchen": 1.5,
    "demi godet": 1.5, "1 2 godet": 1.5, "medio godet": 1.5, "media pastilla": 1.5,
    "mezzo godet": 1.5, "medio pan": 1.5,
    "pan": 3.0, "pans": 3.0, "full pan": 3.0, "whole pan": 3.0, "napf": 3.0, "napfchen": 3.0,
    "ganzer napf": 3.0, "ganzes napfchen": 3.0, "1 1 napf": 3.0, "1 1 napfchen": 3.0,
    "godet": 3.0, "godet entier": 3.0, "pastilla": 3.0, "godet intero": 3.0,
}  # fmt: skip
_UNITS = {"ml": 1.0, "cc": 1.0, "cm3": 1.0, "cl": 10.0, "dl": 100.0, "l": 1000.0, "ltr": 1000.0}
_AMOUNT = re.compile(
    r"(?<![\d.,-])(?:(?P<times>\d{1,3})\s*[x×*]\s*)?(?P<number>\d{1,6}(?:[.,]\d{1,3})?)\s*"
    r"(?P<unit>ml|millilit(?:er|re)s?|cc|cm3|cl|dl|ltr|lit(?:er|re)s?|l|"
    r"(?:us|imp\.?)?\s*fl\.?\s*oz|gr|g|oz)(?![a-z])",
    re.IGNORECASE,
)
_WEIGHTS = ("g", "gr", "oz")

# Words for a count, and None for what says nothing of one (common practice, no source).
_COUNTS: tuple[tuple[int | None, str], ...] = (
    (
        0,
        "no|none|nessuno|ninguno|ninguna|aucun|keine|kein"
        "|out|out of stock|sold out|not available|nil|nein|ausverkauft|nicht vorratig"
        "|nicht lieferbar|vergriffen|non|epuise|rupture|en rupture|indisponible|agotado|sin stock"
        "|no disponible|esaurito|non disponibile|uitverkocht|on order|bestellt|nachbestellt"
        "|en commande|pedido|in arrivo|in ordine|backorder",
    ),
    (
        1,
        "yes|in stock|available|ja|vorratig|auf lager|lieferbar|verfugbar|oui|en stock|disponible"
        "|si|disponibile|op voorraad|low|low stock|few|few left|last one|wenige|restposten"
        "|letzte|geringer bestand|peu|derniers|dernier|pocos|ultimos|pochi|ultimi",
    ),
    (
        None,
        "discontinued|end of line|auslaufend|auslauf|auslaufartikel|lauft aus|fin de serie"
        "|arrete|descatalogado|fin de existencias|fuori produzione|fine serie|on request|ask"
        "|auf anfrage|sur demande|consultar|su richiesta|n a|na|tbc|unknown|unbekannt|k a",
    ),
)
_STOCK = {word: count for count, words in _COUNTS for word in words.split("|")}
_COUNT = re.compile(
    r"(?P<about>[<>≥≤~]=?|ca\.?|circa|env\.?|approx\.?|min\.?|max\.?|mehr als|uber|über|more than|"
    r"over|plus de|mas de|más de|piu di|più di|nur noch|only|noch)?\s*(?P<number>\d{1,7})\s*\+?\s*"
    r"(?:stk|stck|st|stuck|stück|pcs?|pieces?|pi[eè]ces?|u|uds?|unidades|pz|pezzi|tubes?|tuben|ex|x)?"
    r"\.?(?:\s*(?:left|auf lager|in stock|en stock|vorhanden|lieferbar|disponibles?|disponibili))?",
    re.IGNORECASE,
)


class SizeWritten(NamedTuple):
    """Millilitres, None where the words give none, and whether they say more than that."""

    ml: float | None
    says_more: bool


class StockWritten(NamedTuple):
    """A count, None where the words give none, and whether they say more than that."""

    number: int | None
    says_more: bool


def size_written(text: str) -> SizeWritten | None:
    """A size as a shop writes it; None for what is no size.

    Of millilitres and ounces the millilitres count; several of a size count together; a weight
    is a size of which nobody knows the millilitres.
    """
    plain = heading(text.replace("½", "1/2"))
    if plain in _PANS:
        return SizeWritten(_PANS[plain], True)
    amounts = list(_AMOUNT.finditer(text))
    if not amounts:
        return None
    best = min(amounts, key=_rank)
    unit = _unit(best["unit"])
    if unit in _WEIGHTS:
        return SizeWritten(None, True)
    number = float(best["number"].replace(",", "."))
    per_unit = ML_PER_FL_OZ if unit == "floz" else _UNITS[unit]
    total = number * per_unit * int(best["times"] or 1)
    alone = best.group() == text.strip()
    return SizeWritten(round(total, 4), not alone or best["times"] is not None)


def _unit(text: str) -> str:
    unit = re.sub(r"[\s.]", "", text).lower()
    if unit.endswith("floz"):
        return "floz"
    if unit.startswith("milli"):
        return "ml"
    return "l" if unit.startswith("lit") else unit


def _rank(hit: re.Match[str]) -> int:
    """Metric volumes first, then fluid ounces, then weights."""
    unit = _unit(hit["unit"])
    return 0 if unit in _UNITS else 1 if unit == "floz" else 2


def stock_written(text: str) -> StockWritten | None:
    """A stock as a shop writes it; None for what is none."""
    plain = heading(text)
    if plain in _STOCK or not plain:
        return StockWritten(_STOCK.get(plain), _STOCK.get(plain) != 0 and bool(plain))
    hit = _COUNT.fullmatch(text.strip())
    if hit is None:
        return None
    number = int(hit["number"])
    return StockWritten(number, number_text(float(number)) != text.strip())
