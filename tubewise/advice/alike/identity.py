"""Whether two paints hold the same pigments, by what their labels declare."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final, Literal

from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.tubes.tube import Tube

Identity = Literal[
    "same pigments",
    "same code, form may differ",
    "some pigments shared",
    "different pigments",
    "unknown",
]
SAME: Final = "same pigments"
FORM: Final = "same code, form may differ"
SHARED: Final = "some pigments shared"
DIFFERENT: Final = "different pigments"
UNKNOWN: Final = "unknown"


@dataclass(frozen=True, slots=True)
class Content:
    """A declared pigment: its code and its form, "" where the code has none.

    Beside them stands whether the form was read or only assumed.
    """

    code: str
    form: str
    assumed: bool

    @property
    def family(self) -> str:
        """The code without its suffix: PB15 for PB15:3."""
        return self.code.split(":")[0]


def contents_of_tube(tube: Tube) -> tuple[Content, ...]:
    """What a tube's label declares."""
    return tuple(Content(d.code, d.form or "", d.form_assumed) for d in tube.reading.pigments)


def contents_of_refs(refs: Iterable[str]) -> tuple[Content, ...]:
    """What refs such as `PV19/gamma` say; a bare code of many forms counts as assumed."""
    out = []
    for ref in map(Ref, refs):
        pigment = load().get(ref.code)
        assumed = not ref.form and pigment is not None and bool(pigment.needs)
        out.append(Content(ref.code, ref.form, assumed))
    return tuple(out)


def vague(content: Content) -> bool:
    """Whether the code needs a form or suffix to mean one colour, and does not have it."""
    pigment = load().get(content.code)
    if pigment is None or not pigment.needs:
        return False
    return content.assumed or not content.form


def _same_form(a: Content, b: Content) -> bool:
    # Where a code needs no form to be understood, one that is not written is not a difference.
    return a.form == b.form or a.assumed or b.assumed or not (a.form and b.form)


def identity(a: tuple[Content, ...], b: tuple[Content, ...]) -> Identity:
    """One of the five identities of two declared contents, however ordered."""
    if not a or not b:
        return UNKNOWN
    by_code_a, by_code_b = {c.code: c for c in a}, {c.code: c for c in b}
    if by_code_a.keys() == by_code_b.keys():
        if any(vague(c) for c in (*a, *b)):
            return FORM
        agree = all(_same_form(by_code_a[code], by_code_b[code]) for code in by_code_a)
        return SAME if agree else FORM
    if {c.family for c in a} == {c.family for c in b} and any(vague(c) for c in (*a, *b)):
        return FORM
    return SHARED if by_code_a.keys() & by_code_b.keys() else DIFFERENT


def accepted(wanted_refs: Iterable[str], has: tuple[Content, ...]) -> Identity:
    """Identity of what a list asks for (refs) and what a tube has.

    A list that names a code without a form takes any form of it.
    """
    by_code = {c.code: c for c in has}
    wanted, holding = [], dict(by_code)
    for content in contents_of_refs(wanted_refs):
        if not content.form and content.code in by_code:
            # Any form is welcome, so it is no matter which it is or whether the label says.
            settled = Content(content.code, by_code[content.code].form or "any", False)
            holding[content.code] = settled
            wanted.append(settled)
        else:
            wanted.append(content)
    return identity(tuple(wanted), tuple(holding.values()))
