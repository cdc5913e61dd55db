"""What to look for on a tube, code by code."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tubewise.advice.words.pigments import pigment_name
from tubewise.labels.phrasing import either
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load


@dataclass(frozen=True, slots=True, kw_only=True)
class Code:
    """One pigment as it is printed: its code, its number, and the words that go with it.

    `name` is what painters call it. With a `form` the words are those that reveal it; without, the
    pigment's names. `beware` says which other colours share the code, or "".
    """

    code: str
    form: str
    name: str
    constitutions: tuple[str, ...]
    words: tuple[str, ...]
    beware: str


def look_for(refs: Sequence[str], welcome: Iterable[str] = ()) -> tuple[Code, ...]:
    """What to look for on a tube, code by code; `welcome` is all that the slot takes."""
    return tuple(_code(Ref(ref), frozenset((*refs, *welcome))) for ref in refs)


def _code(ref: Ref, welcome: frozenset[str]) -> Code:
    pigment, form = load().resolve(ref)
    shown = form if ref.form else None
    beware = ""
    shades = [f.name for f in pigment.forms if Ref.of(pigment.code, f.name) not in welcome]
    others = [name.replace("-", " ") for name in shades]
    if shown and others:
        beware = f"{pigment.code} alone does not tell: it is also sold as {either(others)}"
    elif not ref.form and pigment.parent:
        siblings = [p.code for p in load().suffixed(pigment.parent) if p.code not in welcome]
        if siblings:
            beware = f"{pigment.parent} without its number may be {either(siblings)}"
    return Code(
        code=pigment.code,
        form=shown.name.replace("-", " ") if shown else "",
        name=pigment_name(ref),
        constitutions=pigment.constitutions,
        words=shown.label_words[:3] if shown else pigment.names[:2],
        beware=beware,
    )
