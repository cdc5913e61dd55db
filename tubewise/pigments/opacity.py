"""How much a pigment hides, by the register: transparent to opaque."""

from __future__ import annotations

from collections.abc import Iterable

from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.terms import OPACITIES

CLEAR, COVERING = OPACITIES[:2], OPACITIES[2:]


def opacities(refs: Iterable[str]) -> tuple[str, ...]:
    """The opacity of each pigment, of its form where the register tells forms apart."""
    known = (load().resolve(ref) for ref in map(Ref, refs))
    return tuple(
        (form.opacity if form and form.opacity else pigment.opacity) or ""
        for pigment, form in known
    )


def opacity_of(refs: Iterable[str]) -> str:
    """How opaque pigments are together: as the most opaque of them; "" for none."""
    known = [opacity for opacity in opacities(refs) if opacity]
    return max(known, key=OPACITIES.index, default="")
