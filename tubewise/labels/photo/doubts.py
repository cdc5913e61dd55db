"""What a person must settle on a photographed tube; nothing is corrected in silence."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from tubewise.labels import kinds
from tubewise.labels.known import known
from tubewise.labels.photo.candidates import candidates, codes_in, doubtful
from tubewise.labels.photo.lines import PrintedLine, Quad, Sign, length_and_height, part
from tubewise.labels.photo.photo_reading import Corners, Doubt
from tubewise.labels.reading import Declared, Reading, Span
from tubewise.labels.vocabulary import words

GARBLED: Final = 0.80  # lines read with less than this may hide a code
_TO_SETTLE: Final = (
    kinds.LIKELY_MISREAD, kinds.UNKNOWN_CODE, kinds.CODE_NUMBER_DISAGREE, kinds.SHORTHAND,
    kinds.AMBIGUOUS_NUMBER,
)  # fmt: skip
_GOES_ON: Final = re.compile(r"(?:[,&+/;]|\b(?:and|und|et|y|e))\s*$", re.IGNORECASE)
_BEGINS_BEFORE: Final = re.compile(r"\s*[,&+;]")
# Letters of a code with nothing, or with letters that may be figures, after them.
_BARE: Final = re.compile(
    r"(?<![A-Za-z])P[. ]?(?:B[kr]|[YORVBGWU8])[. ]?(?P<rest>[A-Z0-9lisozgq|!]{0,3})(?![A-Za-z.\d:])"
)
_WORD: Final = re.compile(r"[^\W\d_]+")


@dataclass(frozen=True, kw_only=True, slots=True)
class Page:
    """A tube's text with the way back from each character to its sign on the picture."""

    text: str
    places: tuple[tuple[int, int] | None, ...]
    lines: tuple[PrintedLine, ...]

    def signs(self, span: Span) -> list[Sign]:
        """The signs of a stretch; gaps between lines have none."""
        found = []
        for place in self.places[slice(*span)]:
            if place is not None:
                found.append(self.lines[place[0]].signs[place[1]])
        return found

    def corners(self, span: Span) -> Corners:
        """Where a stretch stands on the picture: its part of the line it begins on."""
        inside = [place for place in self.places[slice(*span)] if place is not None]
        if not inside:
            return ()
        line = self.lines[inside[0][0]]
        own = [sign for number, sign in inside if number == inside[0][0]]
        long, high = length_and_height(line.quad)
        spare = 0.45 * high / max(long, 1.0)
        start = max(0.0, line.signs[own[0]].place - spare)
        end = min(1.0, line.signs[own[-1]].place + spare)
        return plain_corners(part(line.quad, start, end))


def plain_corners(quad: Quad) -> Corners:
    """Corners to a tenth of a pixel."""
    return tuple((round(float(x), 1), round(float(y), 1)) for x, y in quad)


def page_of(rows: Sequence[Sequence[PrintedLine]]) -> tuple[Page, list[Span]]:
    """The rows as one text, a line each, and the stretch of every printed line, in order."""
    text: list[str] = []
    places: list[tuple[int, int] | None] = []
    spans: list[Span] = []
    lines: list[PrintedLine] = []
    for row in rows:
        for place, line in enumerate(row):
            if place:
                text.append("  ")
                places += [None, None]
            start = len(places)
            for number, sign in enumerate(line.signs):
                text.append(sign.character)
                places += [(len(lines), number)] * len(sign.character)
            spans.append((start, len(places)))
            lines.append(line)
        text.append("\n")
        places.append(None)
    whole = "".join(text)
    return Page(text=whole, places=tuple(places), lines=tuple(lines)), spans


def find_doubts(
    page: Page, spans: Sequence[Span], reading: Reading, missed: Sequence[Corners] = ()
) -> tuple[Doubt, ...]:
    """Everything to settle, in the order of the text; one doubt a stretch.

    `missed` are places of the picture where print seems to stand that was not found.
    """
    found = [
        *_from_warnings(page, reading),
        *_from_signs(page, reading),
        *_from_second_looks(page, spans, reading),
        *_bare_letters(page, spans, reading),
        *_lists_that_go_on(page, spans, reading),
        *_garbled(page, spans, reading),
    ]
    kept = [
        Doubt(
            kind="unread print",
            message="Something is printed here that could not be read. Look at the tube.",
            span=None,
            corners=corners,
        )
        for corners in missed
    ]
    for doubt in found:
        if not any(_overlap(doubt.span, other.span) for other in kept):
            kept.append(doubt)
    if not reading.pigments and not kept:
        kept.append(
            Doubt(
                kind="nothing",
                message="No pigment code was found here. It may stand on another side of the tube.",
                span=None,
                corners=(),
            )
        )
    return tuple(sorted(kept, key=lambda doubt: doubt.span or (10**6, 0)))


def _overlap(first: Span | None, other: Span | None) -> bool:
    return first is not None and other is not None and first[0] < other[1] and other[0] < first[1]


def _from_warnings(page: Page, reading: Reading) -> Iterator[Doubt]:
    for warning in reading.warnings:
        if warning.kind not in _TO_SETTLE or warning.span is None or warning.where != "label":
            continue
        own = candidates(page.signs(warning.span))
        yield Doubt(
            kind="not a code",
            message=warning.message,
            span=warning.span,
            corners=page.corners(warning.span),
            candidates=tuple(dict.fromkeys((*own, *warning.suggestions))),
        )


def _from_signs(page: Page, reading: Reading) -> Iterator[Doubt]:
    disputed = {w.span for w in reading.warnings if w.kind == kinds.CODE_NUMBER_DISAGREE}
    for pigment in reading.pigments:
        signs = page.signs(pigment.span)
        if any(sign.seen for sign in signs):
            yield _same_shape(pigment, signs, page)
            continue
        where = doubtful(signs)
        if not where or (_confirmed(pigment) and pigment.span not in disputed):
            continue
        options = candidates(signs)
        if options == (pigment.code,) and min(signs[i].probability for i in where) > 0.6:
            continue  # whatever else the doubtful sign may be, no other code has it there
        printed = page.text[slice(*pigment.span)]
        yield Doubt(
            kind="sign",
            message=f"“{printed}” is read as {pigment.code}, but a sign of it is doubtful. "
            "Compare it with the tube.",
            span=pigment.span,
            corners=page.corners(pigment.span),
            candidates=tuple(dict.fromkeys((pigment.code, *options))),
        )


def _same_shape(pigment: Declared, signs: Sequence[Sign], page: Page) -> Doubt:
    printed = "".join(sign.seen or sign.character for sign in signs)
    return Doubt(
        kind="sign",
        message=f"“{printed}” is taken as {pigment.code}, since the figure 0 and the letter O look "
        "alike. Compare it with the tube.",
        span=pigment.span,
        corners=page.corners(pigment.span),
        candidates=(pigment.code,),
    )


def _confirmed(pigment: Declared) -> bool:
    """Whether the constitution number printed beside it belongs to this code and no other."""
    number = pigment.constitution
    return bool(number) and known().numbers.get(number) == (pigment.code,)


def _from_second_looks(page: Page, spans: Sequence[Span], reading: Reading) -> Iterator[Doubt]:
    for line, span in zip(page.lines, spans, strict=True):
        if not line.second:
            continue
        first = [p.code for p in reading.pigments if _overlap(p.span, span)]
        second = codes_in("Pigments: " + line.second)
        if set(first) == set(second) or set(codes_in("Pigments: " + line.text)) == set(second):
            continue
        inside = [p for p in reading.pigments if _overlap(p.span, span)]
        odd = [p for p in inside if p.code not in second]
        where = odd[0].span if odd else span
        options = [*(p.code for p in odd), *(code for code in second if code not in first)]
        yield Doubt(
            kind="second look",
            message=f"“{page.text[slice(*where)].strip()}” reads otherwise at a second look. "
            "Compare it with the tube.",
            span=where,
            corners=page.corners(where),
            candidates=tuple(dict.fromkeys(options)),
        )


def _bare_letters(page: Page, spans: Sequence[Span], reading: Reading) -> Iterator[Doubt]:
    """Letters of a code without a number: `PY` where light hides it, `PWG` for PW6."""
    for start, end in spans:
        line = page.text[start:end]
        for hit in _BARE.finditer(line):
            span = start + hit.start(), start + hit.end()
            if any(_overlap(span, pigment.span) for pigment in reading.pigments):
                continue
            options = candidates(page.signs(span), every=True)
            if hit["rest"] and not options:
                continue  # a word in capitals
            yield Doubt(
                kind="not a code",
                message=f"“{hit.group().strip()}” looks like a code whose number can't be read. "
                "Look at the tube.",
                span=span,
                corners=page.corners(span),
                candidates=options,
            )


def _lists_that_go_on(page: Page, spans: Sequence[Span], reading: Reading) -> Iterator[Doubt]:
    """A list of pigments that begins or ends with a comma, or is announced and never comes."""
    before = False
    after = {span: spans[i + 1] if i + 1 < len(spans) else None for i, span in enumerate(spans)}
    for span in spans:
        line = page.text[slice(*span)]
        own = [p for p in reading.pigments if _overlap(p.span, span)]
        announced = _announces(line) and not own
        goes_on = bool(own) and bool(_GOES_ON.search(line))
        following = after[span]
        comes = following is not None and any(_overlap(p.span, following) for p in reading.pigments)
        cut = bool(own) and not before and bool(_BEGINS_BEFORE.match(line))
        before = bool(own)
        if cut:
            yield Doubt(
                kind="list goes on",
                message="A list of pigments begins before what is read here. Look at the tube.",
                span=span,
                corners=page.corners(span),
            )
        elif (announced or goes_on) and not comes:
            yield Doubt(
                kind="list goes on",
                message="A list of pigments begins or goes on here, but what follows is not read "
                "as a code. Look at the tube.",
                span=span,
                corners=page.corners(span),
            )


def _announces(line: str) -> bool:
    found = [words().get(word.upper(), ("", ""))[0] for word in _WORD.findall(line)]
    return "pigment" in found and len(found) <= 4


def _garbled(page: Page, spans: Sequence[Span], reading: Reading) -> Iterator[Doubt]:
    for line, span in zip(page.lines, spans, strict=True):
        letters = sum(sign.character.isalnum() for sign in line.signs)
        if letters < 3 or line.score >= GARBLED:
            continue
        if any(_overlap(p.span, span) for p in reading.pigments):
            continue
        yield Doubt(
            kind="unread print",
            message="This line can't be read. If it names pigments, type them in.",
            span=span,
            corners=plain_corners(np.asarray(line.quad)),
        )
