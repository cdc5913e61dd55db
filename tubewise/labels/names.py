"""What a paint's name says against what is declared: hue paints, misleading names, odd hues."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from tubewise.labels import kinds
from tubewise.labels.hues import possible_hues, said_hues
from tubewise.labels.known import Known
from tubewise.labels.phrasing import either, listing
from tubewise.labels.reading import Declared, LabelWarning
from tubewise.labels.shades import contradicted
from tubewise.labels.title import Title
from tubewise.labels.vocabulary import words

if TYPE_CHECKING:
    from tubewise.pigments.promise import Promise
    from tubewise.pigments.register import Register

_IMITATES = frozenset({"hue"})
_FREE = frozenset({"free"})


def name_warnings(
    title: Title, pigments: Sequence[Declared], look: Known, *, unread: bool
) -> list[LabelWarning]:
    """Warnings on the name; with `unread`, something declared could not be read for certain."""
    named = _is_own_name(title, pigments, look)
    found = [] if named else _promise_warnings(title, pigments, look, unread=unread)
    if pigments and not unread and not found and not named:
        found += _hue_warning(title, pigments, look)
    if not found and not unread:
        found += _shade_warning(title, pigments, look) or _more_than_named(title, pigments, look)
    return found


def _coloured(pigments: Sequence[Declared], look: Known) -> list[Declared]:
    """Those that colour: no white, no extender."""
    return [
        p for p in pigments if p.code not in look.pigments or look.pigments[p.code].hue != "white"
    ]


def _shade_warning(title: Title, pigments: Sequence[Declared], look: Known) -> list[LabelWarning]:
    """A shade word that the one coloured pigment is not sold as."""
    coloured = _coloured(pigments, look)
    if len(coloured) != 1 or coloured[0].code not in look.pigments:
        return []
    code = coloured[0].code
    shade = contradicted(code, look.pigments[code].hue, title.key)
    if shade is None:
        return []
    return [
        LabelWarning(
            kinds.SHADE_DISAGREES,
            f"The name says {shade.lean} shade, which is sold as {either(shade.usual)}, but the "
            f"label declares {code}. Look at the tube: a figure or the name may be mistyped.",
            title.span(),
            title.where,
            shade.usual,
        )
    ]


def _more_than_named(title: Title, pigments: Sequence[Declared], look: Known) -> list[LabelWarning]:
    """The plain name of one pigment over several: "Ultramarine" on PB29 with PB15:3."""
    if any(word in _IMITATES for word in title.key) or len(pigments) < 2:
        return []
    declared = {p.code for p in pigments}
    for promise in promises(title, look):
        if not _kept(promise.codes, declared) or not _is_whole_name(promise, title):
            continue
        bases = {code.partition(":")[0] for code in promise.codes}
        others = [
            p.code for p in _coloured(pigments, look) if p.code.partition(":")[0] not in bases
        ]
        own = [p.code for p in pigments if p.code.partition(":")[0] in bases]
        if others and own:
            message = (
                f"The name is that of {either(own)}, but {listing(list(dict.fromkeys(others)))} is "
                "in it too, so it mixes otherwise. Trust the codes, not the name."
            )
            return [
                LabelWarning(
                    kinds.MORE_THAN_NAMED, message, promise.span, title.where, tuple(others)
                )
            ]
    return []


def _is_whole_name(promise: Promise, title: Title) -> bool:
    """Whether the name says nothing else but a shade: "French ultramarine deep"."""
    start, end = promise.span
    rest = [word.word for word in title.found if word.end <= start or word.start >= end]
    shades = {means for means, role in words().values() if role in ("shade", "hue")}
    return all(word in shades for word in rest)


def _promise_warnings(
    title: Title, pigments: Sequence[Declared], look: Known, *, unread: bool
) -> list[LabelWarning]:
    """One warning for each promise of the name that no declared pigment keeps."""
    declared = {p.code for p in pigments}
    inside = listing(list(dict.fromkeys(p.code for p in pigments)))
    imitates = any(word in _IMITATES for word in title.key)
    found: list[LabelWarning] = []
    seen: set[str] = set()
    for promise in promises(title, look):
        if promise.promise in seen or _kept(promise.codes, declared):
            continue
        seen.add(promise.promise)  # once, though the name be printed in five languages
        span, wanted = promise.span, either(_briefly(promise.codes))
        if imitates:
            what = f"it holds {inside} instead" if inside else "what it holds is not said"
            message = (
                f"A hue paint: it imitates {promise.promise} without {wanted}; {what}. "
                f"Where a lesson needs the real pigment, look for {wanted} on the tube."
            )
            found.append(LabelWarning(kinds.HUE_PAINT, message, span, title.where, promise.codes))
        elif pigments and not unread:
            message = (
                f"The name promises {promise.promise} ({wanted}), but the label declares {inside} "
                "and does not say “hue”. Trust the code, not the name, and expect other mixtures."
            )
            found.append(
                LabelWarning(kinds.MISLEADING_NAME, message, span, title.where, promise.codes)
            )
    return found


def promises(title: Title, look: Known) -> list[Promise]:
    """What the name promises by one of its phrases; nothing where it says free of it."""
    if any(word in _FREE for word in title.key):
        return []
    start = title.start
    # "Alizarin crimson, permanent" says that it replaces the pigment that fades.
    lasting = "permanent" in title.key
    # Sizes and numbers behind a name promise nothing, and without them fewer names differ.
    return [
        replace(found, span=(found.span[0] + start, found.span[1] + start))
        for found in _promises(look.register, title.text.rstrip("0123456789 #.,-"))
        if not (lasting and _all_fade(found.codes, look))
    ]


@lru_cache(maxsize=8192)
def _promises(register: Register, name: str) -> tuple[Promise, ...]:
    return tuple(found for found in register.promises(name) if found.strength == "pigment")


def _all_fade(codes: Sequence[str], look: Known) -> bool:
    return all(look.pigments[code].is_fugitive("oil") for code in codes)


def _briefly(codes: Sequence[str]) -> list[str]:
    """Codes without the suffixed relatives of one that is listed too."""
    return [code for code in codes if ":" not in code or code.partition(":")[0] not in codes]


def _is_own_name(title: Title, pigments: Sequence[Declared], look: Known) -> bool:
    """Whether the name holds a declared pigment's own name, as "perylene vermilion" of PR123."""
    return any(look.is_named(pigment.code, title.key) for pigment in pigments)


def _kept(wanted: Sequence[str], declared: set[str]) -> bool:
    """Whether a wanted code is declared, suffixes aside: PR83:1 keeps a promise of PR83."""
    bases = {code.partition(":")[0] for code in declared}
    return any(code in declared or code.partition(":")[0] in bases for code in wanted)


def _hue_warning(title: Title, pigments: Sequence[Declared], look: Known) -> list[LabelWarning]:
    named = said_hues(title.found)
    hues = [
        (p.code, look.pigments[p.code].hue if p.code in look.pigments else "") for p in pigments
    ]
    if not named or {word.word for word in named} & possible_hues(hues):
        return []
    colours = " ".join(dict.fromkeys(word.word for word in named))
    codes = listing(list(dict.fromkeys(p.code for p in pigments)))
    return [
        LabelWarning(
            kinds.HUE_DISAGREES,
            f"The name says {colours}, but {codes} cannot give that colour. "
            "Check both on the tube: a code or the name may be mistyped.",
            title.span(named),
            title.where,
        )
    ]
