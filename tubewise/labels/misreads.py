"""Characters that are easily taken for one another in print: `PVI9`, `P823`, `PB1S:3`."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from tubewise.labels.codes import introduces_pigments
from tubewise.labels.known import Known
from tubewise.labels.reading import Span
from tubewise.labels.surroundings import is_elsewhere

_AS_DIGIT = str.maketrans({"O": "0", "Q": "0", "D": "0", "I": "1", "L": "1", "|": "1", "!": "1",
                           "S": "5", "Z": "2", "B": "8", "G": "6", "T": "7"})  # fmt: skip
_AS_HUE = {"8K": "BK", "8R": "BR", "8": "B", "0": "O", "Q": "O", "6": "G", "U": "V", "VV": "W"}
_LOOSE = re.compile(
    r"(?<![A-Z0-9\x00_])P(?P<gap1>[. ]{0,2})(?P<hue>BK|BR|8K|8R|VV|[YORVBGWU806Q])"
    r"(?P<gap2>[. ]{0,2})(?P<number>[0-9OQDIL|!SZBGT]{1,3})"
    r"(?P<suffix>[:.][0-9ILSZB])?(?![A-Z0-9_|!]|-\d)"
)
_NO_HUE = re.compile(
    r"(?<![A-Z0-9\x00_])P[. ]?(?P<number>\d{2,4})(?P<suffix>:\d)?(?![A-Z0-9_]|-\d)"
)
# Letters stuck to a code: PV23BS. One litre and gram are no such letters.
_STUCK = re.compile(
    r"(?<![A-Z0-9\x00_])P[. ]?(?P<hue>BK|BR|[YORVBGW])[. ]?(?P<number>\d{1,3})(?P<suffix>:\d)?"
    r"(?![GL](?![A-Z]))[A-Z]{1,3}(?![A-Z0-9_-])"
)


@dataclass(frozen=True, slots=True)
class Misread:
    """A stretch that is no code as printed, and the codes it may stand for, likeliest first."""

    start: int
    end: int
    candidates: tuple[str, ...]


def find_misreads(text: str, taken: Sequence[Span], known: Known) -> list[Misread]:
    """Would-be codes of folded `text` outside the `taken` stretches."""
    found: list[Misread] = []
    for pattern, guess in _GUESSES:
        for hit in pattern.finditer(text):
            start, end = hit.span()
            used = (*taken, *((other.start, other.end) for other in found))
            if any(start < stop and end > begin for begin, stop in used):
                continue
            if is_elsewhere(text, start, end):
                continue
            before = text[max((stop for _, stop in taken if stop <= start), default=0) : start]
            listed = introduces_pigments(before)
            candidates = guess(hit, known, listed)
            if candidates:
                found.append(Misread(start, end, candidates))
    return sorted(found, key=lambda misread: misread.start)


def _by_characters(hit: re.Match[str], known: Known, listed: bool) -> tuple[str, ...]:
    number, suffix = hit["number"], hit["suffix"] or ""
    digits = sum(character.isdigit() for character in number + suffix)
    if not digits or (hit["gap1"] + hit["gap2"] and not listed):
        return ()
    hue = _AS_HUE.get(hit["hue"], hit["hue"])
    hue = {"BK": "Bk", "BR": "Br"}.get(hue, hue)
    plain = number.translate(_AS_DIGIT).lstrip("0")
    tail = suffix[:1].replace(".", ":") + suffix[1:].translate(_AS_DIGIT)
    if hue == hit["hue"] and plain == number.lstrip("0") and tail == suffix.replace(".", ":"):
        return ()
    if hit["hue"].isdigit() and not listed and not suffix:
        return ()  # P823 alone in running text is a model number as likely as a pigment
    code = f"P{hue}{plain}{tail}"
    if code in known.pigments:
        return (code,)
    base = f"P{hue}{plain}"
    return (base,) if tail and base in known.pigments else ()


def _by_missing_hue(hit: re.Match[str], known: Known, listed: bool) -> tuple[str, ...]:
    if not listed and not hit["suffix"]:
        return ()
    number, suffix = hit["number"], hit["suffix"] or ""
    hues = ("B", "V", "R", "Y", "O", "G", "W", "Br", "Bk")
    # Either the hue letter was read as a digit (P823), or it is missing altogether (P 209).
    tails = (number[1:], number) if len(number) > 2 else (number,)
    codes = (f"P{hue}{tail.lstrip('0')}{suffix}" for tail in tails for hue in hues)
    return tuple(dict.fromkeys(code for code in codes if code in known.pigments))[:6]


def _by_letters_stuck_to_it(hit: re.Match[str], known: Known, listed: bool) -> tuple[str, ...]:
    hue = {"BK": "Bk", "BR": "Br"}.get(hit["hue"], hit["hue"])
    code = f"P{hue}{hit['number'].lstrip('0')}{hit['suffix'] or ''}"
    return (code,) if listed and code in known.pigments else ()


_GUESSES = (
    (_LOOSE, _by_characters),
    (_NO_HUE, _by_missing_hue),
    (_STUCK, _by_letters_stuck_to_it),
)


def near_codes(code: str, known: Known) -> tuple[str, ...]:
    """Register codes one slip of the pen from an unknown `code`: digits swapped, hue, suffix."""
    head, mark, figure = code.partition(":")
    hue = head.rstrip("0123456789")
    number, suffix = head[len(hue) :], mark + figure
    # A lost colon first: PB 153.
    tries = [f"{hue}{number}"] if suffix else [f"{hue}{number[:-1]}:{number[-1]}"]
    tries += [
        f"{hue}{number[:i]}{number[i + 1]}{number[i]}{number[i + 2 :]}{suffix}"
        for i in range(len(number) - 1)
    ]
    tries += [f"{hue}{number[:i]}{number[i + 1 :]}{suffix}" for i in range(len(number))]
    if suffix:
        tries += [f"P{other}{number}{suffix}" for other in ("B", "R", "Y", "O", "V", "G")]
    if hue == "PB":
        tries += [f"PBk{number}", f"PBr{number}"]
    tries += known.suffixed.get(f"{hue}{number}", ()) if suffix else ()
    return tuple(dict.fromkeys(c for c in tries if c in known.pigments and c != code))[:5]
