"""Tables in text files: their encoding and their delimiter recognised."""

from __future__ import annotations

import csv
import io
import re

from tubewise import limits
from tubewise.errors import UserError
from tubewise.tables.cells import clean
from tubewise.tables.grid import Grid, Row, refuse_oversized, trimmed
from tubewise.tables.headers import heading

_DELIMITERS = (";", "\t", "|", ",")
# Of fewer rows nothing can be said about what all others have.
_ENOUGH_ROWS = 3


# What stands in lists of paint in these languages; other signs than these betray a wrong encoding.
_LETTERS = frozenset("äöüßÄÖÜéèêëàâçîïôûùœÉÈÀÇñáíóúÑÁÍÓÚìòåøæÅØÆ€£")
_MARKS = frozenset("¿¡°®™’‘“”–—½¼¾×²³µ·•…«»ºª\u00a0")
# Tried in this order; of two that read as well the first is taken.
_SINGLE_BYTE = ("cp1252", "iso8859-15", "mac-roman", "cp850", "cp1250")


def decode(data: bytes, file: str) -> str:
    """Text of bytes in UTF-8, UTF-16 or a single-byte encoding, told apart by their looks.

    The latter are Windows-1252, ISO 8859-15, Mac Roman, code page 850 and Windows-1250: that in
    which the letters beyond ASCII are most often those of the languages of our lists.
    """
    marks = ((b"\xef\xbb\xbf", "utf-8-sig"), (b"\xff\xfe", "utf-16"), (b"\xfe\xff", "utf-16"))
    names = [name for mark, name in marks if data.startswith(mark)]
    if not names:
        head = data[:4000]
        if head[1::2].count(0) > len(head) // 4:
            names = ["utf-16-le"]
        elif head[0::2].count(0) > len(head) // 4:
            names = ["utf-16-be"]
        else:
            names = ["utf-8", _single_byte(data)]
    for name in names:
        try:
            text = data.decode(name)
        except UnicodeDecodeError:
            continue
        odd = len(re.findall("[\x00-\x08\x0e-\x1f]", text[:4000]))
        if "\x00" not in text and odd * 50 <= len(text[:4000]):
            return text
        break
    raise UserError(
        "This is not a text file in an encoding we know; save it as CSV in UTF-8, or as XLSX.",
        where=file,
    )


def _beyond_ascii(data: bytes) -> bytes:
    return bytes(byte for byte in data[:2_000_000] if byte > 127)[:20_000]


def _oddness(beyond: bytes, name: str) -> int:
    text = beyond.decode(name, errors="replace")
    return sum(0 if sign in _LETTERS else 1 if sign in _MARKS else 3 for sign in text)


def _single_byte(data: bytes) -> str:
    """The encoding in which most letters beyond ASCII are letters of our languages."""
    beyond = _beyond_ascii(data)
    return min(_SINGLE_BYTE, key=lambda name: _oddness(beyond, name))


def unsure_letters(data: bytes) -> tuple[str, ...]:
    """What to say where the letters beyond ASCII fit two encodings alike; nothing else."""
    try:
        data.decode("utf-8")
    except UnicodeDecodeError:
        pass
    else:
        return ()
    if data.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\x00" in data[:4000]:
        return ()
    beyond = _beyond_ascii(data)
    taken = _single_byte(data)
    least = _oddness(beyond, taken)
    as_well = [
        name
        for name in _SINGLE_BYTE
        if _oddness(beyond, name) == least
        and beyond.decode(name, errors="replace") != beyond.decode(taken, errors="replace")
    ]
    if not as_well:
        return ()
    return (
        f"Its letters fit several encodings; {taken} was taken. Where letters look wrong, save it "
        "in UTF-8.",
    )


def cut_short(text: str, rows: list[Row], widths: list[int]) -> tuple[str, ...]:
    """Why a text may be only the beginning of a file; nothing where it looks whole.

    A line end is missing behind the last row alone, or that row has fewer cells than all others;
    `widths` are the rows' numbers of cells, empty ones too.
    """
    if len(rows) < _ENOUGH_ROWS:
        return ()
    last, width = rows[-1], widths[-1]
    doubts = []
    if text and text[-1] not in "\r\n":
        doubts.append(f"the last row ({last.number}) has no line end")
    least = min(widths[1:-1])
    if width < least:
        doubts.append(f"the last row ({last.number}) has {width} cells, the others {least} or more")
    if not doubts:
        return ()
    return (
        f"The file may be cut short: {' and '.join(doubts)}. Get it again and compare its end.",
    )


def text_grid(file: str, text: str, known: frozenset[str], doubts: tuple[str, ...] = ()) -> Grid:
    """A text file as one sheet; `known` are the headings that tell its delimiter.

    `doubts` on its letters stand before those on its end.
    """
    # Some spreadsheets write their delimiter as a first line of its own.
    announced = text[4:5] if text[:4].lower() == "sep=" else ""
    if announced in _DELIMITERS:
        rows, widths = _split(file, text, announced)
        rows, widths = rows[1:], widths[1:]
    else:
        rows, widths = _split(file, text, _delimiter(text, known))
    if not rows:
        raise UserError("The file holds no cells.", where=file)
    return Grid(file, "", tuple(rows), (*doubts, *cut_short(text, rows, widths)))


def _delimiter(text: str, known: frozenset[str]) -> str:
    """The delimiter that finds most of the known headings in one of the first lines."""
    lines = [line for line in text[:100_000].splitlines() if line.strip()][: limits.HEADER_WITHIN]

    def score(delimiter: str) -> tuple[int, int]:
        cut = [
            [heading(cell.strip().strip('"')) for cell in line.split(delimiter)] for line in lines
        ]
        return (
            max((len(known.intersection(cells)) for cells in cut), default=0),
            max((len(cells) for cells in cut), default=0),
        )

    return max(_DELIMITERS, key=score)


def _split(file: str, text: str, delimiter: str) -> tuple[list[Row], list[int]]:
    rows: list[Row] = []
    widths: list[int] = []
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    number = 0
    try:
        for number, raw in enumerate(reader, start=1):
            refuse_oversized(file, f"row {number}", raw)
            cells = tuple(clean(cell) for cell in raw)
            if any(cells):
                rows.append(Row(number, trimmed(cells)))
                widths.append(len(raw))
            if len(rows) > limits.MAX_ROWS:
                raise UserError(f"More than {limits.MAX_ROWS:,} rows; split the file.", where=file)
    except csv.Error as error:
        fault = (
            "a quote was opened and never closed"
            if "end of data" in str(error) or "field limit" in str(error)
            else "its quotes are out of order"
        )
        raise UserError(
            f"This row can't be cut into cells: {fault}.", where=f"{file}, row {number + 1}"
        ) from None
    return rows, widths
