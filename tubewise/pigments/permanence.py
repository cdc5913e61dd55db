"""How long a tube's colour lasts, and the cautions that go with it, pigment by pigment."""

from __future__ import annotations

from collections.abc import Iterable

from tubewise.pigments.pigment import Caution, Pigment
from tubewise.pigments.ref import Ref
from tubewise.pigments.register import load
from tubewise.pigments.terms import BINDERS

NOT_RATED = "not rated"
_ORDER = ("I", "II", "III", "IV", "V")
_FADING = _ORDER[2:]


FUGITIVE = "fugitive"


def lightfastness(refs: Iterable[str], medium: str) -> str:
    """The least lasting category (ASTM D4303, I to V) among `refs` in a medium.

    "fugitive" where a pigment is known to fade though this binder has no rating for it, unless
    another is rated IV or V; "not rated" where any is not rated otherwise, since no promise can be
    made then. Where no medium is said, each pigment counts as it does in the binder in which it
    lasts least.
    """
    pigments = [load().get(ref.code) for ref in map(Ref, refs)]
    found = [_category(p, medium) if p else NOT_RATED for p in pigments]
    worst = max((f for f in found if f in _ORDER), key=_ORDER.index, default=NOT_RATED)
    if worst in ("IV", "V"):
        return worst
    known = (p for p, category in zip(pigments, found, strict=True) if category not in _FADING)
    if any(p is not None and p.is_fugitive(medium) for p in known):
        return FUGITIVE
    if worst == "III":
        return worst
    return NOT_RATED if NOT_RATED in found or not found else worst


def _category(pigment: Pigment, medium: str) -> str:
    media = (medium,) if medium.strip() else BINDERS
    rated = [c for c in map(pigment.lightfastness, media) if c in _ORDER]
    return max(rated, key=_ORDER.index, default=NOT_RATED)


def lasting(category: str) -> bool:
    """Whether a category is one a painter may rely on: I or II."""
    return category in ("I", "II")


# Cautions of any fine powder.
_OF_ANY_POWDER = ("dust", "general")


def cautions(refs: Iterable[str]) -> tuple[Caution, ...]:
    """Every caution of the pigments, each once."""
    seen: dict[tuple[str, str], Caution] = {}
    for ref in map(Ref, refs):
        pigment = load().get(ref.code)
        for caution in pigment.cautions_for(ref.form) if pigment else ():
            seen.setdefault((caution.kind, caution.text), caution)
    return tuple(seen.values())


def own_cautions(found: Iterable[Caution]) -> tuple[Caution, ...]:
    """Those of `found` that are not of any fine powder, which a tube of paint need not repeat."""
    return tuple(caution for caution in found if caution.kind not in _OF_ANY_POWDER)
