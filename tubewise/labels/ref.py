"""One pigment as a person types it: `PV19/gamma`, `pv 19 gamma`, `PB15.3`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tubewise.errors import UserError
from tubewise.labels.kinds import LIKELY_MISREAD
from tubewise.labels.known import Known, known
from tubewise.labels.phrasing import either
from tubewise.labels.reader import read
from tubewise.labels.reading import Declared
from tubewise.labels.vocabulary import key_words
from tubewise.pigments.ref import Ref

if TYPE_CHECKING:
    from tubewise.pigments.register import Register


def parse_ref(term: str, *, register: Register | None = None, where: str = "") -> Declared:
    """The one pigment that `term` names, with its form (the default one if none is said).

    Raises `UserError`, at `where`, if `term` names none, several, an unknown one, or a form that
    the pigment does not have.
    """
    reading = read(term, register=register)
    shown = term.strip()
    misread = next((w for w in reading.warnings if w.kind == LIKELY_MISREAD), None)
    if misread is not None:
        raise UserError(misread.message, where=where)
    if len(reading.pigments) > 1:
        raise UserError(
            f"“{shown}” names several pigments ({', '.join(reading.codes)}); give one here",
            where=where,
        )
    if not reading.pigments:
        raise UserError(
            f"“{shown}” is not a pigment; write a code such as PB29, or PV19/gamma for a form",
            where=where,
        )
    found = reading.pigments[0]
    if not found.name:
        hints = reading.warnings[0].message
        raise UserError(hints, where=where)
    _refuse_rest(term, found, known(register), where)
    return found


def typed_ref(term: str, *, register: Register | None = None, where: str = "") -> Ref:
    """The ref that `term` names, without a form where none is said.

    Raises `UserError` as `parse_ref` does.
    """
    found = parse_ref(term, register=register, where=where)
    return Ref(found.code) if found.form_assumed else found.ref


def _refuse_rest(term: str, found: Declared, look: Known, where: str) -> None:
    """Raise if `term` says more than the pigment, its form, number and names."""
    start, end = found.span
    rest = f"{term[:start]} {term[end:]}"
    spoken = [word for word in key_words(rest) if word not in ("c", "i", "ci", found.constitution)]
    if not spoken:
        return
    names = look.pigments[found.code].names
    own = {word for phrase in names for word in key_words(phrase)}
    if not found.form_assumed and found.form:
        own |= {word for phrase, _ in look.phrases[found.code] for word in phrase}
    strange = [word for word in spoken if word not in own]
    if term[end:].lstrip().startswith("/") and (strange or not found.form or found.form_assumed):
        pigment = look.pigments[found.code]
        advice = f"write {either(pigment.refs)}" if pigment.forms else f"write {found.code} alone"
        raise UserError(
            f"{found.code} has no form “{term[end:].strip(' /')}” in the register; {advice}",
            where=where,
        )
    if strange:
        raise UserError(
            f"“{term.strip()}” says more than a pigment ({' '.join(strange)}); "
            f"write {found.ref} alone",
            where=where,
        )
