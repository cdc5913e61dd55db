"""Colour Index names as people print them: `PV 23`, `P.Br.7`, `Pigmentviolett 23`, `PB15.3`."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

from tubewise.labels.known import Known
from tubewise.labels.lookalikes import lookalike
from tubewise.labels.reading import Span
from tubewise.labels.surroundings import is_elsewhere
from tubewise.labels.vocabulary import HUE_LETTERS, USAGE_LETTERS, words, words_meaning

_SHORT = re.compile(
    r"(?:(?<![A-Z0-9])|(?<=[0-9I])(?=P))"
    r"(?:(?P<usage>[PN])(?P<gap1>[. ]{0,2})(?P<hue>BK|BR|[YORVBGWM])"
    r"(?P<gap2>[.]?(?: |\n){0,3}(?:[-#] ?|(?<=[ .])N[OR]\.? ?)?)"
    r"|(?P<dye>B[VRBGYO])(?P<gap3>[ .]{0,2}))"
    r"(?P<number>\d{1,3})(?!\d)"
)
_SUFFIX = re.compile(r"(?P<mark> ?: ?|[.,-]| ?/ ?)(?P<figure>\d{1,2})(?!\d)")
_LETTERS = re.compile(r"[A-Z]+")
_NEXT_CODE = re.compile(r"P[. ]?(?:BK|BR|[YORVBGWM])[. ]?\d")
_INDEX_BEFORE = re.compile(r"(?:\bC\.? ?I\.?|\bCOLOU?R[ -]?INDEX)[ .:]*$")
_LIST_MARKS = " \n,;/&+|.()[]*:-"
_LIST_WORD = re.compile(r"(?<![A-Z0-9])(?:AND|UND|ET|E|Y|EN|OG|OCH|I)$")
_PLURAL = re.compile(r"\((?:S|E|EN|ER|I|OS|Y)$")  # Pigment(s), Pigment(en)
_ANNOUNCING = ("CONTAINS", "ENTHALT", "CONTIENT", "CONTIENE", "CONTEM", "BEVAT")
_HARD_TAIL = re.compile(r"_|[-.#]\d|-[A-Z]+\d")
_ONWARD = re.compile(r"-(\d{1,3})(?![\dA-Z_-])")
_SUFFIXED_ONWARD = re.compile(
    r"(?:[ ]?[,/;&+][ ]?|[ ](?:AND|UND|ET|E|Y|EN|OG|OCH|I)[ ])(?P<number>\d{1,3}:\d)(?![\dA-Z])"
)
_NUMBER_AFTER = re.compile(r"-(\d{5})(?!\d)")
_LAST_WORD = re.compile(r"[A-Z]+$")
_BACK = 80  # characters looked back for what announces a code
# One of these stands in every spelled-out code; most labels have none, and need no slow search.
_USAGE_ROOTS = ("PIG", "NATU", "BAS", "ACID", "DIRECT", "SOLVENT", "VAT", "ZASAD")


# "PBl 29", "P. Yellow 42": the hue cut short or spelled out behind the letter alone. Not "POR",
# which is a word in two languages, nor "PVI", which is a misread PV1.
_CUT_SHORT = {
    "BLUE": "B", "BLU": "B", "BL": "B", "BLAU": "B", "BLEU": "B", "AZUL": "B",
    "GREEN": "G", "GRN": "G", "GR": "G", "GRUN": "G", "VERT": "G", "VERDE": "G",
    "YELLOW": "Y", "YEL": "Y", "GELB": "Y", "JAUNE": "Y", "GIALLO": "Y", "AMARILLO": "Y",
    "RED": "R", "ROT": "R", "ROUGE": "R", "ROSSO": "R", "ROJO": "R",
    "VIOLET": "V", "VIO": "V", "VIOLETT": "V", "VIOLA": "V",
    "ORANGE": "O", "ORG": "O", "BROWN": "Br", "BRN": "Br", "BRAUN": "Br", "BRUN": "Br",
    "BLACK": "Bk", "BLK": "Bk", "SCHWARZ": "Bk", "NOIR": "Bk",
    "WHITE": "W", "WHT": "W", "WEISS": "W",
}  # fmt: skip
_ABBREVIATED = re.compile(
    r"(?<![A-Z0-9])P[. ]{0,2}(?P<hue>"
    + "|".join(sorted(_CUT_SHORT, key=len, reverse=True))
    + r")[. ]{0,2}(?P<number>\d{1,3})(?!\d)"
)


@dataclass(frozen=True, slots=True)
class Written:
    """A code found in folded text: our spelling, its stretch, and whether the register has it.

    `doubt` says what else it may be, where it may be something else.
    """

    code: str
    start: int
    end: int
    known: bool
    announced: bool = True
    doubt: str = ""


@dataclass(frozen=True, slots=True)
class Codes:
    """What `find_codes` found in folded text, in order.

    `read` are the codes; `refused` stretches that look like codes but stand elsewhere; `unread`
    codes that are more likely something else, each with its `doubt`.
    """

    read: list[Written]
    refused: list[Span]
    unread: list[Written]


@lru_cache(maxsize=1)
def _long_pattern() -> re.Pattern[str]:
    usage = "|".join(words_meaning("usage"))
    hue = "|".join(words_meaning("hue"))
    number = r"[ \n]*(?:(?:NO|NR|NUM)\b\.? ?|[#:-] ?)?(?P<{}>\d{{1,3}})(?!\d)"
    gap = r"\.?[ \n]{0,3}[:-]?[ ]?"
    return re.compile(
        rf"(?<![A-Z0-9])(?:(?P<usage>{usage}){gap}(?P<hue>{hue}){number.format('number')}"
        rf"|(?P<hue2>{hue}){gap}(?:D[EI]L? )?(?P<usage2>{usage}){number.format('number2')})"
    )


def introduces_pigments(before: str) -> bool:
    """Whether folded text that ends here announces a pigment: nothing, "Pigments:", "C.I."."""
    rest = _without_list_marks(before[-_BACK:])
    if not rest or _INDEX_BEFORE.search(before, max(0, len(before) - 20)):
        return True
    last = _LAST_WORD.search(_PLURAL.sub("", rest))
    return last is not None and (
        words().get(last.group(), ("", ""))[0] == "pigment" or last.group() in _ANNOUNCING
    )


def _without_list_marks(before: str) -> str:
    """Text without the commas, brackets and "and" at its end."""
    rest = before.rstrip(_LIST_MARKS)
    while rest and rest[-1] in "DTEYNGHI":
        word = _LIST_WORD.search(rest, max(0, len(rest) - 4))
        if word is None or rest.endswith("C.I"):
            break
        rest = rest[: word.start()].rstrip(_LIST_MARKS)
    return rest


def find_codes(text: str, printed: Callable[[int, int], str], known: Known) -> Codes:
    """Codes in folded `text`.

    `printed` gives the original of a stretch; it tells whether short doubtful codes ("pg 7",
    "Nr. 9") stand in capitals.
    """
    hits = list(_SHORT.finditer(text))
    hits += _ABBREVIATED.finditer(text)
    hits.sort(key=lambda hit: hit.start())
    if any(root in text for root in _USAGE_ROOTS):
        hits += _long_pattern().finditer(text)
        hits.sort(key=lambda hit: hit.start())
    found = Codes([], [], [])
    last_end = 0
    for hit in hits:
        if hit.start() < last_end:
            continue
        written = _written(hit, text, printed, known, last_end)
        if written is None:
            continue
        if is_elsewhere(text, written.start, written.end, announced=written.announced):
            found.refused.append((written.start, written.end))
            continue
        what = lookalike(text, written.start, written.end, found.read, printed)
        if what is not None and not (what.read and written.known):
            if written.known:
                found.unread.append(replace(written, doubt=what.may_be))
            found.refused.append((written.start, written.end))
            continue
        found.read.append(replace(written, doubt=what.may_be) if what else written)
        last_end = written.end
        more = _suffixed(text, written, known)
        if "hue2" in hit.groupdict():
            more += _onward(text, more[-1] if more else written, known)
        found.read.extend(more)
        last_end = found.read[-1].end
    return found


def _suffixed(text: str, first: Written, known: Known) -> list[Written]:
    """Figures with a suffix of their own in a list: PB15:3 of "PB 29, 15:3"."""
    letters = first.code.rstrip("0123456789:")
    found: list[Written] = []
    end = first.end
    while hit := _SUFFIXED_ONWARD.match(text, end):
        code = f"{letters}{hit['number']}"
        if code not in known.pigments:
            break
        start, end = hit.span("number")
        found.append(Written(code, start, end, True))
    return found


@lru_cache(maxsize=1)
def _onward_pattern() -> re.Pattern[str]:
    hue = "|".join(words_meaning("hue"))
    return re.compile(
        r"(?:[ ]?[,/;&+][ ]?|[ ](?:AND|UND|ET|E|Y|EN|OG|OCH|I)[ ])"
        rf"(?P<start>)(?P<hue>{hue})[ ]?(?P<number>\d{{1,3}})(?![\dA-Z])(?::(?P<suffix>\d))?"
    )


def _onward(text: str, first: Written, known: Known) -> list[Written]:
    """Further hues and numbers of one spelled-out list: "Pigments Red 254 and White 6"."""
    usage = re.match("[A-Z]", first.code)
    found: list[Written] = []
    end = first.end
    while usage and (hit := _onward_pattern().match(text, end)):
        suffix = f":{hit['suffix']}" if hit["suffix"] else ""
        code = f"{usage[0]}{HUE_LETTERS[words()[hit['hue']][0]]}{hit['number'].lstrip('0')}{suffix}"
        start, end = hit.start("start"), hit.end()
        if code not in known.pigments or is_elsewhere(text, start, end):
            break
        found.append(Written(code, start, end, True))
    return found


def _written(
    hit: re.Match[str],
    text: str,
    printed: Callable[[int, int], str],
    known: Known,
    last_end: int,
) -> Written | None:
    groups = hit.groupdict()
    start = hit.start()
    if hit.re is _ABBREVIATED:
        return _abbreviated(hit, text, known)
    short = "gap1" in groups
    if short:
        usage, hue = groups["usage"] or groups["dye"][0], groups["hue"] or groups["dye"][1]
        hue = {"BK": "Bk", "BR": "Br"}.get(hue, hue)
        number = groups["number"]
    else:
        usage = USAGE_LETTERS[words()[groups["usage"] or groups["usage2"]][0]]
        hue = HUE_LETTERS[words()[groups["hue"] or groups["hue2"]][0]]
        number = groups["number"] or groups["number2"]
    number = number.lstrip("0")
    if not number:
        return None
    code = f"{usage}{hue}{number}"
    end = hit.end()
    suffix = _SUFFIX.match(text, end)
    # No pigment is numbered ":0".
    figure = suffix["figure"].lstrip("0") if suffix else ""
    if suffix and figure:
        suffixed = f"{code}:{figure}"
        if suffixed in known.pigments or (
            suffix["mark"] == ":" or (suffix["mark"] == "." and known.has_suffixes(code))
        ):
            code, end = suffixed, suffix.end()
    before = text[max(last_end, start - _BACK) : start]
    listed = introduces_pigments(before)
    announced = listed and (last_end > 0 or bool(_LETTERS.search(before)))
    if not _tail_allows(text, end, code, known) or not _head_allows(text, start, last_end, listed):
        return None
    is_known = code in known.pigments
    if short and not announced:
        shape = _shape(groups, printed(start, hit.end()))
        if _is_doubtful(shape, groups, is_known, listed=listed):
            return None
    if usage != "P" and not is_known and not (announced and usage == "N"):
        index = _INDEX_BEFORE.search(before)
        if index is None:
            return None
    return Written(code, start, end, is_known, announced)


def _abbreviated(hit: re.Match[str], text: str, known: Known) -> Written | None:
    """`PBl 29`, `P. Yellow 42`: read only where the register has what it says."""
    code = f"P{_CUT_SHORT[hit['hue']]}{hit['number'].lstrip('0')}"
    end = hit.end()
    suffix = _SUFFIX.match(text, end)
    if suffix and f"{code}:{suffix['figure'].lstrip('0')}" in known.pigments:
        code, end = f"{code}:{suffix['figure'].lstrip('0')}", suffix.end()
    if code not in known.pigments or not _tail_allows(text, end, code, known):
        return None
    return Written(code, hit.start(), end, True)


def _head_allows(text: str, start: int, last_end: int, listed: bool) -> bool:
    """A code may not be the tail of a longer number or word, unless that was a code itself."""
    if start == 0 or start == last_end:
        return True
    mark = text[start - 1]
    if mark.isalnum():
        return listed and text[max(0, start - 2) : start] == "CI"
    if mark in "-_" and start >= 2 and text[start - 2].isalnum():
        return listed or start - 1 == last_end
    return mark != "\x00"


def _tail_allows(text: str, end: int, code: str, known: Known) -> bool:
    """A code may be followed at once by its form or by the next code, by no other letters."""
    letters = _LETTERS.match(text, end)
    if letters:
        return bool(known.is_form_word(code, letters.group()) or _NEXT_CODE.match(text, end))
    hard = _HARD_TAIL.match(text, end)
    if hard is None or (text[end] in "-_" and _NEXT_CODE.match(text, end + 1)):
        return True
    number = _NUMBER_AFTER.match(text, end)
    if number is not None and number[1] in known.numbers:
        return True
    onward = _ONWARD.match(text, end)
    return onward is not None and f"{code.rstrip('0123456789:')}{onward[1]}" in known.pigments


class _Shape(NamedTuple):
    """How a short code is printed."""

    gap: bool
    dot: bool
    small: bool
    padded: bool


def _shape(groups: dict[str, str | None], printed: str) -> _Shape:
    gap = f"{groups['gap1'] or ''}{groups['gap2'] or ''}{groups['gap3'] or ''}"
    letters = (
        printed.replace("r", "").replace("k", "") if groups["hue"] in ("BR", "BK") else printed
    )
    number = groups["number"] or ""
    return _Shape(
        bool(gap),
        "." in gap,
        any(letter.islower() for letter in letters),
        number.startswith("0"),
    )


def _is_doubtful(
    shape: _Shape, groups: dict[str, str | None], is_known: bool, *, listed: bool
) -> bool:
    """Whether an unannounced code is more often something else: page 7, No. 9, 3 PM, P.O. 12."""
    if shape.padded and shape.gap:
        return True
    hue = groups["hue"]
    if groups["usage"] == "N":
        # "Nr. 9" is a number in German; Natural Red is printed NR9, NR 9 or N.R. 9.
        numeral = shape.dot and "." not in (groups["gap1"] or "")
        loose = shape.gap or shape.small
        return not is_known or numeral or (shape.gap and shape.small) or (loose and not listed)
    if groups["dye"] or hue == "M":
        return not is_known or (not listed and (shape.small or shape.gap))
    return shape.small and hue in ("G", "O") and (shape.dot or (shape.gap and not listed))
