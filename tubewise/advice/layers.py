"""What lies over what: coats from the ground up, and fat over lean where they are oil.

The table of binders (data/binder_layers.csv, binder_grounds.csv) decides first; between two coats
of oil the pigments do, by how fast they dry and how much oil they take up (handling.csv,
densities.csv). common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise

from tubewise.advice.binder import Rule, Verdict, on, over
from tubewise.errors import UserError
from tubewise.labels.phrasing import listing
from tubewise.paints.paint import Paint
from tubewise.paints.shelf import Shelf
from tubewise.pigments.binders import binder_named, binders
from tubewise.pigments.handling import NOT_KNOWN, oil_absorption, together
from tubewise.pigments.ref import Ref

_OIL = "oil-bound"
_OILS = ("little", "some", "much")
# The gravest last; what is not known weighs more than a plain yes.
_GRAVITY = ("yes", "not known", "with care", "no")
ADD_OIL = "mix no less oil or medium into it than into what lies below"


@dataclass(frozen=True, slots=True, kw_only=True)
class Coat:
    """One coat of paint: its `name`, its `medium`, and its pigments where they are known."""

    name: str
    medium: str
    refs: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Layer:
    """What is said of one coat over another, or over the ground.

    `verdict` is yes, with care, no, or not known; `words` a sentence; `source` where it is from.
    """

    top: str
    under: str
    verdict: Verdict
    words: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Layers:
    """Coats from the ground up; the worst `verdict` of all."""

    coats: tuple[Coat, ...]
    ground: str
    verdict: Verdict
    layers: tuple[Layer, ...]


def layers(coats: Sequence[Coat], ground: str = "") -> Layers:
    """What the trade says of coats laid in this order, the first of them on the ground.

    Raises UserError without a coat, and for a medium or a ground nobody knows.
    """
    if not coats or (len(coats) < 2 and not ground):
        raise UserError("name two coats from the ground up, or one coat and a ground")
    found = [_on_ground(coats[0], ground)] if ground else []
    found += [lying(top, under) for under, top in pairwise(coats)]
    # What is two coats below moves as well.
    found += [
        layer
        for n, under in enumerate(coats)
        for top in coats[n + 2 :]
        if (layer := lying(top, under)).verdict == "no"
    ]
    worst = max((layer.verdict for layer in found), key=_GRAVITY.index)
    return Layers(coats=tuple(coats), ground=ground, verdict=worst, layers=tuple(found))


def lying(top: Coat, under: Coat) -> Layer:
    """One coat over another, dry one. Raises UserError for a medium nobody knows."""
    rule = over(top.medium, under.medium)
    verdict, why = rule.verdict, rule.why
    if _both_oil(rule) and top.refs and under.refs:
        against = fat_over_lean(top, under)
        if against:
            verdict, why = "with care", f"fat over lean: {against}; better the other way round"
        elif rule.a == rule.b:
            verdict, why = "yes", f"fat over lean, as far as pigments go; {ADD_OIL}"
    return Layer(
        top=top.name,
        under=under.name,
        verdict=verdict,
        words=f"{top.name} over {under.name}: {verdict}, {why}",
        source=rule.source,
    )


def _on_ground(coat: Coat, ground: str) -> Layer:
    rule = on(coat.medium, ground)
    return Layer(
        top=coat.name,
        under=ground,
        verdict=rule.verdict,
        words=f"{coat.name} on {ground}: {rule.verdict}, {rule.why}",
        source=rule.source,
    )


def _both_oil(rule: Rule) -> bool:
    return {_family(rule.a), _family(rule.b)} == {_OIL}


def fat_over_lean(top: Coat, under: Coat) -> str:
    """What pigments say against a coat of oil over another, a clause; "" where nothing is known to.

    A fast one over a slow one sets while the lower still moves, and one that takes up little oil
    over one that takes up much is leaner than what it lies on.
    """
    against = []
    if (_speed(top), _speed(under)) == ("fast", "slow"):
        against.append(f"{top.name} dries fast and {under.name} below it slowly")
    if (_oil(top), _oil(under)) == ("little", "much"):
        against.append(f"{top.name} takes up little oil and {under.name} much")
    return listing(against)


def _speed(coat: Coat) -> str:
    return together(tuple(map(Ref, coat.refs))).drying if coat.refs else NOT_KNOWN


def _oil(coat: Coat) -> str:
    return max((oil_absorption(Ref(ref)) for ref in coat.refs), key=_OILS.index, default="")


def of_media(media: Iterable[str]) -> tuple[str, ...]:
    """One sentence for each two media that a person has side by side: which may lie over which.

    Raises UserError for a medium nobody knows.
    """
    known = tuple(dict.fromkeys(filter(None, map(binder_named, media))))
    return tuple(_either_way(a, b) for a, b in combinations(known, 2))


def _either_way(a: str, b: str) -> str:
    """`oil lies over acrylic, never under it: acrylic never over oil: …`."""
    up, down = over(a, b), over(b, a)
    if up.verdict == down.verdict == "no":
        return f"neither {a} over {b} nor {b} over {a}: {up.why}"
    if "no" in (up.verdict, down.verdict):
        does, never = (down, up) if up.verdict == "no" else (up, down)
        how = " with care" if does.verdict == "with care" else ""
        return f"{does.a} lies over {does.b}{how}, never under it: {never.why}"
    return f"{a} over {b}: {up.verdict}, {up.why}; {b} over {a}: {down.verdict}, {down.why}"


def either_order(a: Coat, b: Coat) -> tuple[str, ...]:
    """What is said of two paints laid over each other: by their media, and fat over lean.

    Nothing where a medium is not known, or one order is as good as the other. Raises UserError
    for a medium nobody knows.
    """
    rule = over(a.medium, b.medium)
    words = of_media((rule.a, rule.b)) if rule.a and rule.b else ()
    if not _both_oil(rule):
        return words
    clauses = filter(None, (fat_over_lean(a, b), fat_over_lean(b, a)))
    return (*words, *(f"not in this order, fat over lean: {clause}" for clause in clauses))


def by_layer(coats: Iterable[Coat]) -> str:
    """Which paints of oil belong in the lower layers and which above, a sentence; "" for neither.

    What dries fast lies below what dries slowly. Of several coats at least one of each must be
    known, or there is no order to keep.
    """
    oils = [c for c in coats if c.refs and _family(c.medium) == _OIL]
    fast = [c.name for c in oils if _speed(c) == "fast"]
    slow = [c.name for c in oils if _speed(c) == "slow"]
    if not fast or not slow:
        return ""
    low = "dries fast and belongs" if len(fast) == 1 else "dry fast and belong"
    high = "dries slowly and belongs" if len(slow) == 1 else "dry slowly and belong"
    return f"fat over lean: {listing(fast)} {low} in the lower layers; {listing(slow)} {high} above"


def _family(medium: str) -> str:
    binder = binder_named(medium)
    return binders()[binder].family if binder else ""


def coat_of(term: str, shelf: Shelf, medium: str = "") -> Coat:
    """The coat that a person names: a medium, a tube, or a pigment in `medium`.

    Raises UserError for what is none of them.
    """
    if is_medium(term):
        binder = binder_named(term)
        return Coat(name=binder, medium=binder)
    try:
        paint = shelf.term(term)
    except UserError as error:
        raise UserError(
            f"this is no medium ({', '.join(binders())}), and as a paint: {error.message}",
            where=error.where,
        ) from None
    return coat(paint, medium)


def is_medium(term: str) -> bool:
    """Whether a word names a medium."""
    try:
        return bool(binder_named(term))
    except ValueError:
        return False


def coat(paint: Paint, medium: str = "") -> Coat:
    """A paint as a coat, in its own medium or, where it says none, in `medium`."""
    own = paint.tube.medium if paint.tube else ""
    return Coat(name=paint.name, medium=own or medium, refs=tuple(map(str, paint.refs)))
