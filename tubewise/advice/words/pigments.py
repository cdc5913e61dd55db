"""Pigments as every door shows them: as the label does, and what it leaves open said."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load

NOTHING_DECLARED = "no pigment declared"
# What the register's `needs` calls the thing that a bare code leaves open.
_OPEN = {"form": "form not said", "suffix": "number not said"}


@lru_cache(maxsize=4096)
def pigment_text(code: str) -> str:
    """One pigment: `PV19/gamma` where the form is said.

    Where it matters and is not said, `PV19 (form not said)`; where the colour hangs on the number
    behind the code, `PB15 (number not said)`.
    """
    ref = Ref(code)
    pigment = load().get(ref.code)
    if pigment is None or ref.form or pigment.needs not in _OPEN:
        return code
    return f"{code} ({_OPEN[pigment.needs]})"


def pigments_text(codes: Iterable[str], nothing: str = "") -> str:
    """The pigments of one paint in the label's order: `PY3, PG7, PW6`; `nothing` for none.

    `codes` are those that the label shows (`Tube.pigments`, `Paint.pigments`), never assumed forms.
    """
    return ", ".join(map(pigment_text, codes)) or nothing


@lru_cache(maxsize=4096)
def pigment_name(code: str) -> str:
    """What painters call a pigment: `quinacridone rose` for PV19/gamma; "" where none is known.

    Of a form it is the name that the form's own words are in, else the first with the form.
    """
    ref = Ref(code)
    pigment = load().get(ref.code)
    if pigment is None or not pigment.names:
        return ""
    form = pigment.form(ref.form) if ref.form else None
    if form is None:
        return pigment.names[0]
    first, *_ = pigment.names
    for word in map(str.casefold, form.label_words):
        for name in pigment.names:
            if word == name.casefold() or word in name.casefold().split():
                return name
    return f"{first}, {form.name.replace('-', ' ')}"
