"""One pigment as a person types it: `PV19/gamma`, `pv 19 gamma`, `PB15.3`."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tubewise.errors import UserError
from tubewise.labels.kinds import LIKELY_MISREAD
from tubewise.labels.reader import read
from tubewise.labels.reading import Declared

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
    _, mark, form = term.partition("/")
    if mark and found.form_assumed and form.strip() and not form.strip()[0].isdigit():
        raise UserError(
            f"{found.code} has no form “{form.strip()}” in the register; "
            f"leave it out, or write one such as {found.ref}",
            where=where,
        )
    return found
