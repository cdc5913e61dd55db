"""How one paint's character differs from another's, beside colour: what handles otherwise."""

from __future__ import annotations

from collections.abc import Sequence

from tubewise.pigments.binders import binder_named, binders
from tubewise.pigments.handling import NOT_KNOWN, SCALES, handling, together
from tubewise.pigments.opacity import opacity_of
from tubewise.pigments.register import load
from tubewise.pigments.terms import OPACITIES

# What matters in which family of binders; transparency matters in all.
_MATTERS = {
    "oil-bound": ("drying", "film"),
    "gum-bound": ("staining", "granulation", "lifting"),
}
_SAID = {
    ("drying", "fast"): "dries faster in oil",
    ("drying", "slow"): "dries more slowly in oil",
    ("drying", "medium"): "dries at another pace in oil",
    ("film", "tough"): "makes a tougher oil film",
    ("film", "soft"): "makes a softer oil film",
    ("film", "brittle"): "makes a brittle oil film that may flake",
    ("staining", "staining"): "stains",
    ("staining", "low"): "hardly stains",
    ("staining", "medium"): "stains otherwise",
    ("granulation", "granulating"): "granulates",
    ("granulation", "smooth"): "lies smooth",
    ("granulation", "slight"): "granulates only slightly",
    ("lifting", "easy"): "lifts easily",
    ("lifting", "hard"): "is hard to lift",
    ("lifting", "partly"): "lifts in part",
}
# Two of the four steps of opacity apart, a paint is of another kind. common practice, no source.
_APART = 2


def other_character(wanted: Sequence[str], other: Sequence[str], medium: str) -> tuple[str, ...]:
    """What a painter minds of `other` in place of `wanted`, in words: `opaque, not transparent`.

    Only what is known of both and differs. Raises ValueError for a medium nobody knows.
    """
    out = []
    a, b = opacity_of(wanted), opacity_of(other)
    if a and b and abs(OPACITIES.index(a) - OPACITIES.index(b)) >= _APART:
        out.append(f"is {b}, not {a}")
    binder = binder_named(medium)
    family = binders()[binder].family if binder else ""
    first, second = together(wanted), together(other)
    for name in _MATTERS.get(family, ()):
        has, gets = str(getattr(first, name)), str(getattr(second, name))
        if NOT_KNOWN not in (has, gets) and has != gets:
            steps = SCALES[name]
            far = abs(steps.index(has) - steps.index(gets)) > 1 or name in ("film", "granulation")
            if far:
                out.append(_SAID[name, gets])
    return tuple(out)


def flakes_instead(wanted: Sequence[str], other: Sequence[str], medium: str) -> bool:
    """Whether in oil a white makes a brittle film where the wanted white does not: zinc for lead.

    What stands first on the label decides, so that titanium with some zinc is a usual white.
    """
    binder = binder_named(medium)
    if not binder or binders()[binder].family != "oil-bound" or not wanted or not other:
        return False
    if any(load().resolve(refs[0])[0].hue != "white" for refs in (wanted, other)):
        return False
    return handling(other[0]).film == "brittle" and handling(wanted[0]).film != "brittle"
