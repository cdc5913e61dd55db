"""Cells: their text made clean, and disarmed where a spreadsheet would run it."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from tubewise.tables.numerals import number_text

# A spreadsheet runs a cell that starts so; the full-width signs count in East Asian versions.
_RUNS = re.compile(r"'*[=+\-@\t\r＝＋－＠]")
_QUOTED = re.compile(r"'+[=+\-@\t\r＝＋－＠]")
_PLAIN_NUMBER = re.compile(r"[+-]?\d+([.,]\d+)?")
INVISIBLE = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\u200b\u2060\ufeff\ufffe\uffff]")


@dataclass(frozen=True, slots=True)
class Spoiled:
    """A cell whose text was lost before it reached us; `reason` says how."""

    text: str
    reason: str


Cell = str | float | Spoiled


def text_of(cell: Cell) -> str:
    """The cell as text."""
    if isinstance(cell, Spoiled):
        return cell.text
    if isinstance(cell, str):
        return cell
    return number_text(cell)


def clean(text: str) -> str:
    """Text without invisible characters, outer blanks or the quote that disarms a formula."""
    if not (text.isascii() and text.isprintable()):
        text = INVISIBLE.sub("", unicodedata.normalize("NFC", text))
        text = text.replace("\r\n", "\n").replace("\r", "\n").replace("\u00a0", " ")
    text = text.strip()
    return text[1:] if text[:1] == "'" and _QUOTED.match(text) else text


def disarmed(text: str) -> str:
    """Text that no spreadsheet will run; `clean` gives the text back."""
    if _RUNS.match(text) and not _PLAIN_NUMBER.fullmatch(text):
        return "'" + text
    return text


def letter(position: int) -> str:
    """A spreadsheet's name for a column counted from 0: A, B, ... Z, AA."""
    name = ""
    position += 1
    while position:
        position, rest = divmod(position - 1, 26)
        name = chr(65 + rest) + name
    return name
