"""Cells: their text made clean, and disarmed where a spreadsheet would run it."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass

from tubewise.tables.numerals import number_text

# A spreadsheet runs a cell that starts so; the full-width signs count in East Asian versions.
_SIGNS = r"=+\-@＝＋－＠"
# What a reader doesn't see before such a sign, and some programs drop: blanks, marks of direction,
# joiners, soft hyphens, selectors.
_UNSEEN = (
    r" \u00a0\u00ad\u034f\u061c\u115f\u1160\u17b4\u17b5\u180b-\u180e\u2000-\u200f\u202a-\u202f"
    r"\u205f-\u206f\u2800\u3000\u3164\ufe00-\ufe0f\ufeff\uffa0"
)
# One class that takes all of it, so that a long run costs no more than its length.
_RUNS = re.compile(rf"[{_UNSEEN}\s']*[\t\r{_SIGNS}]")
_QUOTED = re.compile(rf"'[{_UNSEEN}\s']*[\t\r{_SIGNS}]")
# Programs that part fields at other signs than commas see a cell begin within ours.
_PARTS = r";|\t\r\n"
_NUMBER_ALONE = rf"(?! *[+-]?\d+(?:[.,]\d+)? *(?:[{_PARTS}]|$))"
_RUNS_WITHIN = re.compile(rf"(?<=[{_PARTS}])(?=[{_UNSEEN}']*[{_SIGNS}]){_NUMBER_ALONE}")
_QUOTED_WITHIN = re.compile(rf"(?<=[{_PARTS}])'(?=[{_UNSEEN}']*[{_SIGNS}]){_NUMBER_ALONE}")
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
    if "'" not in text:
        return text
    text = _QUOTED_WITHIN.sub("", text)
    return text[1:] if _QUOTED.match(text) else text


def disarmed(text: str) -> str:
    """Text that no spreadsheet will run, by what a reader would see; `clean` gives the text back.

    Nor will one that parts fields at semicolons, tabs, bars or line ends.
    """
    text = _RUNS_WITHIN.sub("'", text)
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
