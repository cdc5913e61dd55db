"""What a person says about doubtful print, put into the label's text."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Final

from tubewise.advice.counter.label import read_label
from tubewise.labels.photo.photo_reading import Doubt
from tubewise.labels.reading import Span
from tubewise.pigments.binders import binder_named
from tubewise.tubes.folded import folded

MOST_PRINT: Final = 600  # characters of print that are kept with a tube
_SIZE: Final = re.compile(r"(?<![\d.,])(\d{1,4}(?:[.,]\d)?)\s?m[lL]\b")
_WORD: Final = re.compile(r"[^\W\d_]{3,}(?:-[^\W\d_]+)?")


def settled_text(text: str, answers: Iterable[tuple[Span, str]]) -> str:
    """`text` with each stretch as the person reads it on the tube; stretches may not overlap."""
    for (start, end), printed in sorted(answers, reverse=True):
        text = text[:start] + printed.strip() + text[end:]
    return text


def print_of(text: str) -> str:
    """All print of a tube on one line."""
    lines = (" ".join(line.split()) for line in text.splitlines())
    return " | ".join(filter(None, lines))[:MOST_PRINT]


def label_of(text: str, name: str) -> str:
    """The lines of a tube's print that declare its pigments, or may; all where none does."""
    answer = read_label(text, name)
    spans = [p.span for p in answer.pigments]
    spans += [w.span for w in answer.warnings if w.span and w.where == "label"]
    kept, place = [], 0
    for line in text.splitlines(keepends=True):
        end = place + len(line)
        if any(start < end and stop > place for start, stop in spans):
            kept.append(line)
        place = end
    return print_of("".join(kept) or text)


def size_of(text: str) -> float | None:
    """The millilitres that a label states once; None where it states none or several."""
    found = {float(hit[1].replace(",", ".")) for hit in _SIZE.finditer(text)}
    return found.pop() if len(found) == 1 else None


def known_on(text: str, known: Iterable[str]) -> str:
    """The one of `known` makers, or lines, that fills a printed line; "" without exactly one.

    Print alone doesn't tell whose name a word is, so only names met before are taken.
    """
    printed = {folded(line) for line in text.splitlines()}
    found = {name for name in known if name and folded(name) in printed}
    return min(found) if len({folded(name) for name in found}) == 1 else ""


def medium_of(text: str) -> str:
    """The binder that the label's words name, or "" where they name none or several."""
    words = {word for hit in _WORD.finditer(text) for word in _tries(hit.group())}
    found = {_binder(word) for word in words} - {""}
    return found.pop() if len(found) == 1 else ""


def _binder(word: str) -> str:
    try:
        return binder_named(word)
    except ValueError:
        return ""


def _tries(word: str) -> Sequence[str]:
    # "Künstler-Acrylfarbe": a compound names its binder by a part.
    parts = [word, *word.split("-")]
    return [*parts, *(part.removesuffix("farbe") for part in parts if part.endswith("farbe"))]


def question_of(doubt: Doubt, text: str) -> str:
    """A doubt in a few words for a spreadsheet's cell: what was read, and what it may be."""
    printed = text[slice(*doubt.span)].strip() if doubt.span else ""
    options = " or ".join(doubt.candidates)
    if printed and options:
        return f"“{printed}”: {options}?"
    return f"“{printed}”?" if printed else doubt.message
