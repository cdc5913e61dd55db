"""What a person leaves out or asks for, held against the tubes at hand.

A wish is a tube's id, a pigment, a class of caution (cadmium, lead, ...) or a name. Somebody
excludes cadmium for a reason: so a wish that means nothing is an error and never passed over.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Literal

from tubewise import labels
from tubewise.errors import UserError
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.tables import Faults, read_rows
from tubewise.pigments.terms import CAUTION_KINDS
from tubewise.pigments.words import phrase_key
from tubewise.tubes.tube import Tube

Kind = Literal["tube", "pigment", "caution", "name"]
# Words before a wish that say what is asked anyway: `--without "no cadmium"`.
_NEGATIONS = ("no", "not", "without", "ohne", "kein", "sans", "sin", "senza", "zonder")
_CODE = re.compile(r"[A-Za-z]{1,4} ?\d{1,4}([:.]\d{1,2})?(/.*)?")
_FILE = Path(__file__).parent / "data" / "caution_words.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class Meant:
    """The tubes that a wish means: by their id, a pigment, a class of caution or their name."""

    wish: str
    kind: Kind
    tubes: tuple[Tube, ...]


def meant(wish: str, tubes: Sequence[Tube]) -> Meant:
    """The tubes among `tubes` that a wish means.

    A pigment without its form or suffix means all of them, and one with a form also a tube whose
    label leaves the form open. A class of caution may be in no tube; any other wish that means
    nothing raises UserError, with the nearest names.
    """
    found = _meant(wish.strip(), tubes)
    if not found.tubes and found.kind == "pigment":
        raise UserError(f"no tube here holds {found.wish}", where=f"“{wish.strip()}”")
    if not found.tubes and found.kind != "caution":
        raise UserError(_nothing(found.wish, tubes), where=f"“{wish.strip()}”")
    return found


def _meant(text: str, tubes: Sequence[Tube]) -> Meant:
    """As `meant`, with no tubes where the wish means nothing here."""
    own = tuple(t for t in tubes if text in (t.id, t.paint))
    if own:
        return Meant(wish=text, kind="tube", tubes=own)
    kind = caution_named(text)
    if kind:
        return Meant(wish=text, kind="caution", tubes=tuple(t for t in tubes if _has(t, kind)))
    ref = _pigment(text)
    if ref is not None:
        return Meant(wish=ref, kind="pigment", tubes=tuple(t for t in tubes if _holds(t, ref)))
    named = tuple(t for t in tubes if _is_called(t, phrase_key(text)))
    return Meant(wish=text, kind="name", tubes=named)


def excluded(wishes: Iterable[str], tubes: Sequence[Tube]) -> frozenset[str]:
    """The ids of the tubes that any of the wishes leaves out. Raises UserError as `meant` does."""
    return frozenset(tube.id for wish in wishes for tube in meant(wish, tubes).tubes)


def also_excluded(wishes: Iterable[str], tubes: Sequence[Tube]) -> frozenset[str]:
    """The same for tubes the person doesn't have, such as a shop's: none of them need be meant."""
    out: set[str] = set()
    for wish in wishes:
        with suppress(UserError):
            out |= {tube.id for tube in _meant(wish.strip(), tubes).tubes}
    return frozenset(out)


def required(
    wishes: Iterable[str], tubes: Sequence[Tube], without: frozenset[str] = frozenset()
) -> tuple[str, ...]:
    """The ids of the tubes that the wishes ask for, one for each wish.

    Raises UserError where a wish means nothing, several paints, or only what `without` leaves out.
    """
    out: list[str] = []
    for wish in wishes:
        found = meant(wish, tubes).tubes
        left = [tube for tube in found if tube.id not in without]
        if not left:
            why = "every tube it means is left out" if found else "no tube here has it"
            raise UserError(f"{why}, so it can't be required", where=f"“{wish}”")
        paints = {tube.paint: tube for tube in reversed(left)}
        if len(paints) > 1:
            names = ", ".join(sorted(tube.id for tube in paints.values()))
            raise UserError(f"means {len(paints)} tubes; say which: {names}", where=f"“{wish}”")
        out.append(left[0].id)
    return tuple(dict.fromkeys(out))


def caution_named(text: str) -> str:
    """The class of caution that a word means in six languages (`Kadmium`, `no lead`); else ""."""
    key = phrase_key(text)
    while key and key[0] in _NEGATIONS:
        key = key[1:]
    return _classes().get(key, "")


def _has(tube: Tube, kind: str) -> bool:
    """Whether a pigment of the tube carries a class of caution; a form left open counts as it."""
    for declared in tube.reading.pigments:
        pigment = load().get(declared.code)
        form = "" if declared.form_assumed else declared.form or ""
        if pigment and any(caution.kind == kind for caution in pigment.cautions_for(form)):
            return True
    return False


def _pigment(text: str) -> Ref | None:
    try:
        return labels.typed_ref(text)
    except UserError:
        if _CODE.fullmatch(text):
            # It is written as a code is, so that what is wrong with it is worth saying.
            raise
        return None


def _holds(tube: Tube, ref: Ref) -> bool:
    for declared in tube.reading.pigments:
        same = declared.code == ref.code or Ref(declared.code).base == ref
        if same and (not ref.form or declared.form_assumed or declared.form == ref.form):
            return True
    return False


def _is_called(tube: Tube, words: tuple[str, ...]) -> bool:
    """Whether a tube's title holds the words one after the other."""
    if not words:
        return False
    title = phrase_key(tube.title)
    return any(title[n : n + len(words)] == words for n in range(len(title) - len(words) + 1))


def _nothing(text: str, tubes: Sequence[Tube]) -> str:
    from rapidfuzz import fuzz, process

    names = {tube.id: tube.title for tube in tubes}
    near = process.extract(text, names, scorer=fuzz.WRatio, limit=3, score_cutoff=70)
    hint = f"; did you mean {', '.join(title for title, _, _ in near)}?" if near else ""
    return f"no tube, pigment, name or class of caution here is meant by this{hint}"


def read_classes(path: Path) -> Mapping[tuple[str, ...], str]:
    """Classes of caution by the words for them. Raises UserError for each fault."""
    faults = Faults(path.name)
    words: dict[tuple[str, ...], str] = {}
    for row in read_rows(path, ("kind", "words", "source")):
        if row["kind"] not in CAUTION_KINDS:
            faults.add(row, "kind", f"must be one of {', '.join(CAUTION_KINDS)}")
        for column in ("words", "source"):
            if not row[column]:
                faults.add(row, column, "must not be empty")
        for word in row.listed("words"):
            if words.setdefault(phrase_key(word), row["kind"]) != row["kind"]:
                faults.add(row, "words", f"{word!r} stands already for {words[phrase_key(word)]}")
    faults.raise_if_any()
    return words


@lru_cache(maxsize=1)
def _classes() -> Mapping[tuple[str, ...], str]:
    return read_classes(_FILE)
