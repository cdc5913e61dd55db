"""How long a tube's colour lasts, and the cautions that go with it, pigment by pigment."""

from __future__ import annotations

from collections.abc import Iterable

from tubewise.pigments.register import Caution, load

NOT_RATED = "not rated"
_ORDER = ("I", "II", "III", "IV", "V")


def lightfastness(refs: Iterable[str], medium: str) -> str:
    """The least lasting category (ASTM D4303 I to V) among `refs` in a medium.

    "not rated" when any of them is not rated in this binder: no promise can be made then. A
    pigment known to fade (III or worse) is said even when another is not rated.
    """
    found = []
    for ref in refs:
        pigment = load().get(ref.partition("/")[0])
        found.append(pigment.lightfastness(medium or "acrylic") if pigment else NOT_RATED)
    rated = [f for f in found if f in _ORDER]
    worst = max(rated, key=_ORDER.index, default=NOT_RATED)
    if worst in ("III", "IV", "V") or (rated and len(rated) == len(found)):
        return worst
    return NOT_RATED


def lasting(category: str) -> bool:
    """Whether a category is one a painter may rely on: I or II."""
    return category in ("I", "II")


def cautions(refs: Iterable[str]) -> tuple[Caution, ...]:
    """Every caution of the pigments, each once."""
    seen: dict[tuple[str, str], Caution] = {}
    for ref in refs:
        pigment = load().get(ref.partition("/")[0])
        for caution in pigment.cautions if pigment else ():
            seen.setdefault((caution.kind, caution.text), caution)
    return tuple(seen.values())
