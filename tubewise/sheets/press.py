"""The press: plain data and a Typst template in, finished pages out.

Everything a person wrote reaches Typst as JSON that the template reads; none of it is ever part
of the markup, so no name can be taken for a command.
"""

from __future__ import annotations

import json
import re
import unicodedata
from collections.abc import Mapping
from datetime import UTC, date, datetime
from functools import lru_cache
from importlib.resources import files
from pathlib import Path
from typing import Any, Literal, cast

import font_source_serif_pro as face
import typst

from tubewise.errors import UserError
from tubewise.pigments.trust import MEASURED, PUBLISHED

PAPERS = {"a4": "a4", "letter": "us-letter"}
FORMATS = ("pdf", "svg", "png")
MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
# Fine enough to print, small enough to send.
PNG_PPI = 200.0

APPROXIMATE = (
    "Swatches on paper only come near the paint: printer, paper and light change them. Trust a "
    "swatch of your own."
)
DEFER = (
    "Cautions are reminders: the tube's own label, its safety data sheet, local rules and "
    "licensed practice come first."
)

# Longer runs without a break would stick out of their column.
_LONG_RUN = re.compile(r"[^\s\u200b-]{25,}")
_LONGEST = 400
# Marks that turn the direction of the text around them; a name must not turn our own words.
_TURNS = dict.fromkeys(map(ord, "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"))


def clean(text: str) -> str:
    """Text as it can be set: no control or direction marks, single spaces, long runs breakable.

    Cut at 400 characters with an ellipsis: whatever is longer is no name and no remark.
    """
    text = text.translate(_TURNS)
    kept = "".join(" " if unicodedata.category(c) in ("Cc", "Zl", "Zp", "Cs") else c for c in text)
    kept = " ".join(kept.split())
    if len(kept) > _LONGEST:
        kept = kept[: _LONGEST - 1] + "…"
    return _LONG_RUN.sub(lambda run: "\u200b".join(_pieces(run[0], 12)), kept)


def shortened(text: str, most: int) -> str:
    """Text of at most `most` characters, cut with an ellipsis, for places of a fixed size."""
    text = " ".join(text.split())
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def capitalised(text: str) -> str:
    """Words as they begin a sentence; the rest of them as it is."""
    return text[:1].upper() + text[1:]


def _pieces(run: str, size: int) -> list[str]:
    return [run[i : i + size] for i in range(0, len(run), size)]


def _clean_all(value: Any) -> Any:
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, Mapping):
        return {key: _clean_all(item) for key, item in value.items()}
    if isinstance(value, (list, tuple)):
        return [_clean_all(item) for item in value]
    return value


def day_words(day: date) -> str:
    """A date that no country reads the other way round: 25 November 2026."""
    return f"{day.day} {MONTHS[day.month - 1]} {day.year}"


def basis_words(basis: str) -> str:
    """What the colours of a sheet rest on, in a sentence; `basis` as a paint has it."""
    if basis == MEASURED:
        return "Colours are measured: computed from readings of these very paints."
    if basis == PUBLISHED:
        return (
            "Colours are computed from published measurements of paints of these pigments; another "
            "maker's may differ."
        )
    return "Colours are modelled from the pigments on the labels, not measured, unless it says so."


def printable(paper: str, format: str) -> None:
    """Raise UserError for a paper or format that is not known."""
    if paper not in PAPERS:
        raise UserError(f"the papers are {' and '.join(PAPERS)}", where=f"“{paper}”")
    if format not in FORMATS:
        raise UserError(f"the formats are {', '.join(FORMATS)}", where=f"“{format}”")


@lru_cache(maxsize=1)
def _fonts() -> typst.Fonts:
    # Sheets are set in the book face of the pages, signs in one that the wheel brings along; the
    # system's faces only fill in for scripts these do not have.
    return typst.Fonts(
        include_system_fonts=True,
        include_embedded_fonts=True,
        font_paths=[Path(face.SourceSerifPro).parent],
    )


def templates() -> Path:
    """The folder of the Typst templates."""
    return Path(str(files("tubewise.sheets") / "templates"))


def press(
    template: str,
    data: Mapping[str, Any],
    *,
    title: str,
    basis: str = "modelled",
    paper: str = "a4",
    format: str = "pdf",
    on: date | None = None,
) -> tuple[bytes, ...]:
    """Set `data` with a template; PDF gives one file, SVG and PNG one for each page.

    `paper` is a4 or letter, `format` pdf, svg or png, `on` the date the sheet bears (today).
    Raises UserError for another paper or format.
    """
    printable(paper, format)
    day = on or date.today()
    frame = {
        "paper": PAPERS[paper],
        "title": title,
        "date": day_words(day),
        "basis_words": basis_words(basis),
        "approximate": APPROXIMATE,
        "defer": DEFER,
    }
    text = json.dumps(_clean_all({**data, **frame}), ensure_ascii=False)
    made: bytes | list[bytes]
    if format == "pdf":
        try:
            # PDF/UA-1, which Typst checks: a screen reader finds title, order and alternatives.
            made = _set(template, text, format, day, standard="ua-1")
        except typst.TypstError:
            # A name in a script that no font here has cannot be in one; the sheet still prints.
            made = _set(template, text, format, day)
    else:
        made = _set(template, text, format, day)
    return tuple(made) if isinstance(made, list) else (made,)


def _set(
    template: str, text: str, format: str, day: date, standard: Literal["ua-1"] | None = None
) -> bytes | list[bytes]:
    made: bytes | list[bytes] = typst.compile(
        templates() / template,
        root=templates(),
        font_paths=_fonts(),
        format=cast(Literal["pdf", "svg", "png"], format),
        ppi=PNG_PPI if format == "png" else None,
        sys_inputs={"data": text},
        pdf_standards=standard or [],
        # The same sheet on the same day is the same file, byte for byte.
        timestamp=datetime(day.year, day.month, day.day, tzinfo=UTC),
    )
    return made
