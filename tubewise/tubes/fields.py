"""Single cells read as numbers, sizes, prices, grades, media and colours.

Each reader takes a cell and returns its value, or raises ValueError with words for the person.
"""

from __future__ import annotations

import re

from tubewise.optics.geometry import geometry_named
from tubewise.pigments.binders import binder_named
from tubewise.tables.cells import Cell, Spoiled, text_of
from tubewise.tables.headers import heading
from tubewise.tubes.shop_words import size_written, stock_written

_SPACES = re.compile(r"[\s\u00a0\u2009\u202f'’]")
_PLAIN = re.compile(r"\d{1,9}(\.\d{1,2})?", re.ASCII)
_NUMBER = re.compile(r"[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,2})?", re.IGNORECASE)
_SIGNS = {"€": "EUR", "£": "GBP", "¥": "JPY", "₹": "INR", "zł": "PLN", "kč": "CZK"}
_PRICE = re.compile(r"([^\d.,+-]*)([+-]?[\d.,][\d.,\s'’]*)(?:[-–—]+\s*)?([^\d]*)", re.DOTALL)
_MONTH = "(jan|feb|mar|mär|apr|may|mai|jun|jul|aug|sep|oct|okt|nov|dec|dez)"
_DATE = re.compile(
    r"\d{4}-\d\d-\d\d([ T][\d:.]+)?|\d{1,2}[./-]\d{1,2}[./-](19|20)\d\d|\d{1,2}:\d\d:\d\d"
    rf"|\d{{1,2}}[-. ]{{1,2}}{_MONTH}[a-zé]*\.?([-. ]\d{{2,4}})?|{_MONTH}[-. ]\d{{2,4}}",
    re.IGNORECASE,
)

_GRADES = {
    "artist": (
        "artist|artists|artist s|artist grade|artist quality|artists quality|professional|pro"
        "|extra fine|extrafine|extra fein|kunstler|kunstlerqualitat|artiste|extra fine quality"
        "|extra fino|artista"
    ),
    "student": (
        "student|students|student s|student grade|student quality|study|studio|studie|studien"
        "|studienqualitat|etude|estudio|studente"
    ),
}


def _words(table: dict[str, str]) -> dict[str, str]:
    return {word: value for value, words in table.items() for word in words.split("|")}


_GRADE_WORDS = _words(_GRADES)


def read_text(cell: Cell, *, longest: int = 2_000) -> str:
    """Text as it stands. Refuses cells that a spreadsheet spoiled, and what looks like a date."""
    if isinstance(cell, Spoiled):
        raise ValueError(cell.reason)
    text = text_of(cell)
    if len(text) > longest:
        raise ValueError(f"holds {len(text):,} characters, at most {longest:,} are read")
    return text


def read_name(cell: Cell) -> str:
    """A person's or a slot's name: a text of at most 200 characters."""
    return read_text(cell, longest=200)


def read_codes(cell: Cell) -> str:
    """Text that should hold pigment codes or parts, so that a date in it is a spreadsheet's."""
    text = read_text(cell)
    if _DATE.fullmatch(text):
        raise ValueError(
            f"“{text}” looks like a date that a spreadsheet made of the text; type it anew in a "
            "cell formatted as text"
        )
    return text


def read_number(cell: Cell) -> float | None:
    """A number in any common writing: `4.2`, `4,2`, `1.234,50`, `1 234.50`; None if blank.

    Refuses `1,234` and `1.234`, which different countries read differently.
    """
    if isinstance(cell, Spoiled):
        raise ValueError(cell.reason)
    if isinstance(cell, float):
        return cell
    if not cell:
        return None
    if _PLAIN.fullmatch(cell):
        return float(cell)
    text = _SPACES.sub("", cell).replace("−", "-")
    dots, commas = text.count("."), text.count(",")
    body = text.lstrip("+-")
    if dots and commas:
        point = max(".", ",", key=text.rfind)
        group = "," if point == "." else "."
        whole = body.rpartition(point)[0]
        if text.count(point) > 1 or not re.fullmatch(
            rf"\d{{1,3}}({re.escape(group)}\d{{2,3}})*{re.escape(group)}\d{{3}}", whole
        ):
            raise ValueError(f"“{cell}” is no number")
        text = text.replace(group, "").replace(point, ".")
    elif dots + commas > 1:
        if not re.fullmatch(r"\d{1,3}([.,]\d{3})+", body):
            raise ValueError(f"“{cell}” is no number")
        text = text.replace(".", "").replace(",", "")
    elif re.fullmatch(r"[1-9]\d{0,2}[.,]\d{3}", body):
        plain = body.replace(",", "").replace(".", "")
        point = body.replace(",", ".")
        raise ValueError(f"“{cell}” can be {plain} or {point}0; write it one of these ways")
    else:
        text = text.replace(",", ".")
    if not _NUMBER.fullmatch(text):
        raise ValueError(f"“{cell}” is no number")
    return float(text)


def read_size(cell: Cell) -> float | None:
    """Millilitres: `37`, `37 ml e`, `0,2 l`, `1.25 fl oz`, `2 x 37 ml`, `half pan`; None if blank.

    None too for a weight, of which nobody knows the millilitres.
    """
    value: float | None = None
    written = size_written(cell) if isinstance(cell, str) and cell else None
    if written is not None:
        value = written.ml
    else:
        try:
            value = read_number(cell)
        except ValueError as error:
            if isinstance(cell, Spoiled) or " can be " in str(error):
                raise
            raise ValueError(
                f"“{text_of(cell)}” is no size in millilitres, such as 37 or 37 ml"
            ) from None
    if value is not None and not 0 < value <= 100_000:
        raise ValueError(f"“{text_of(cell)}” is no size of a tube in millilitres")
    return value


def read_currency(text: str) -> str:
    """A currency as three letters where its sign tells it; `$` stays, as many countries use it."""
    mark = text.strip(" .")
    if mark.lower() in _SIGNS:
        return _SIGNS[mark.lower()]
    if re.fullmatch(r"[A-Za-z]{3}", mark):
        return mark.upper()
    if len(mark) > 8 or re.search(r"\d", mark):
        raise ValueError(f"“{text}” is no currency, such as EUR")
    return mark


def read_price(cell: Cell) -> tuple[float | None, str]:
    """The price and the currency written with it, if any."""
    currency = ""
    if isinstance(cell, str) and cell:
        match = _PRICE.fullmatch(cell.replace("−", "-"))
        if match is None:
            raise ValueError(f"“{cell}” is no price, such as 4.20")
        # "4.–" is how some countries write a round price.
        number = match[2].strip()
        value = read_number(number[:-1] if number.endswith((".", ",")) else number)
        marks = [read_currency(m) for m in (match[1].strip(), match[3].strip(" -–—")) if m]
        if len({m for m in marks if m}) > 1:
            raise ValueError(f"“{cell}” names two currencies")
        currency = marks[0] if marks else ""
    else:
        value = read_number(cell)
    if value is not None and not 0 <= value < 1_000_000:
        raise ValueError(f"“{text_of(cell)}” is no price of a tube")
    return value, currency


def read_stock(cell: Cell) -> int | None:
    """How many are there; `sold out` is 0, `in stock` without a count is 1, blank is None.

    `>10` is 10 and `3 Stk` 3; words that give no count, such as `auslaufend`, give None.
    """
    if isinstance(cell, str) and re.fullmatch(r"\d{1,3}[.,]000", cell):
        cell = cell.replace(",", "").replace(".", "")
    written = stock_written(cell) if isinstance(cell, str) and cell else None
    value = float(written.number) if written and written.number is not None else None
    if written is None:
        value = read_number(cell)
    if value is None:
        return None
    if not 0 <= value <= 10_000_000 or value != int(value):
        raise ValueError(f"“{text_of(cell)}” is no count of tubes; write a whole number")
    return int(value)


def says_more(column: str, cell: Cell) -> bool:
    """Whether a cell of a size or a stock says more than the value that is read from it."""
    if not isinstance(cell, str) or not cell:
        return False
    written = {"size_ml": size_written, "stock": stock_written}[column](cell)
    return written is not None and written.says_more


def read_grade(cell: Cell) -> str:
    """`artist`, `student` or empty."""
    text = read_text(cell)
    if not text:
        return ""
    if heading(text) not in _GRADE_WORDS:
        raise ValueError(
            f"“{text}” is no grade we know; write artist or student, or leave it blank"
        )
    return _GRADE_WORDS[heading(text)]


def read_medium(cell: Cell) -> str:
    """One of the binders of `pigments.binders`, by any usual name in six languages, or empty."""
    return binder_named(read_text(cell, longest=200))


def read_hex(cell: Cell) -> str:
    """`#rrggbb` in small letters; empty if blank."""
    text = read_text(cell)
    digits = text.lstrip("#").strip().lower()
    if not text:
        return ""
    if re.fullmatch(r"[0-9a-f]{3}", digits) and text.startswith("#"):
        digits = "".join(2 * digit for digit in digits)
    if not re.fullmatch(r"[0-9a-f]{6}", digits):
        hint = (
            "; a spreadsheet may have taken it for a number, so format the cell as text"
            if isinstance(cell, float)
            else ""
        )
        raise ValueError(f"“{text}” is no colour, such as #a1b2c3{hint}")
    return f"#{digits}"


def read_geometry(cell: Cell) -> str:
    """`included`, `excluded` or empty: whether a swatch was read with its mirror reflection."""
    text = read_text(cell, longest=200)
    found = geometry_named(text)
    if text and not found:
        raise ValueError(
            f"“{text}” does not say how the swatch was read; write excluded (45/0, a scanner, a "
            "photograph) or included (a sphere, SCI), or leave it blank"
        )
    return found


def read_lab(cell: Cell) -> tuple[float, float, float] | None:
    """CIELAB as three numbers: `41.2, 38, -12`, `41,2; 38; -12` or `41,2 38 -12`."""
    text = read_text(cell)
    if not text:
        return None
    bare = re.sub(r"(?i)^\s*(cie)?\s*lab\s*[:=]?", "", text.replace("−", "-"))
    bare = bare.strip().strip("()[]").strip()
    for cut in (r"\s*;\s*", r"\s*,\s+|\s+,\s*", r"\s+", r","):
        parts = re.split(cut, bare)
        if len(parts) == 3 and all(re.fullmatch(r"[+-]?\d+([.,]\d+)?", part) for part in parts):
            lightness, a, b = (float(part.replace(",", ".")) for part in parts)
            break
    else:
        raise ValueError(f"“{text}” is no CIELAB colour; write L, a, b such as 41.2, 38, -12")
    if not 0 <= lightness <= 100 or max(abs(a), abs(b)) > 200:
        raise ValueError(f"“{text}” is out of range: L is 0 to 100, a and b within ±200")
    return lightness, a, b
