"""What a sample's name says of its drawdown: `masstone`, `tint 1:4 by weight`, `card black`."""

from __future__ import annotations

import re
from dataclasses import dataclass

MASSTONE = "masstone"
TINT = "tint"
WHITE = "white"
CARD = "card"
KINDS = (MASSTONE, TINT, WHITE, CARD)
GROUNDS = ("opaque", "white", "black")


@dataclass(frozen=True, slots=True)
class Role:
    """What a reading is of.

    `kind` is masstone, tint, white (the white of the tints, by itself) or card (the bare card);
    `parts` of paint to `white_parts` of white, `by` volume or weight; `ground` is opaque, white
    or black. `thickness_um` is the wet film in micrometres, None when not told.
    """

    kind: str
    parts: float = 1.0
    white_parts: float = 0.0
    by: str = "volume"
    ground: str = "opaque"
    thickness_um: float | None = None


_REPEAT = re.compile(r"\s*(#\s*\d+|\(\s*\d+\s*\)|\brep(eat)?\s*\d+)\s*$")
_RATIO = re.compile(r"(\d+(?:[.,]\d+)?)\s*[:+/]\s*(\d+(?:[.,]\d+)?)")
_SHARE = re.compile(r"(\d+(?:[.,]\d+)?)\s*%")
_MICRONS = re.compile(r"(\d+(?:[.,]\d+)?)\s*(µm|μm|um|microns?)\b")
_WEIGHT = re.compile(r"\b(by )?(weight|wt|grams?|g)\b|\bby mass\b")
_OVER = re.compile(r"\b(over|on)\b")


def plain(name: str) -> str:
    """A sample's name without capitals, doubled blanks, underscores or the number of a repeat."""
    text = re.sub(r"[\s_]+", " ", name.casefold()).strip()
    return _REPEAT.sub("", text).strip()


_PREFIX = re.compile(r"^(.*?)(?:\s-\s|:\s|,\s|;\s*)(?!.*(?:\s-\s|:\s|,\s|;))")


def paint_from_name(name: str) -> str:
    """The paint's own name in front of its drawdown's, `rose - tint 1:4` -> `rose`; else empty."""
    text = plain(name)
    match = _PREFIX.match(text)
    return match.group(1).strip() if match and _role(text) is None else ""


def role_from_name(name: str) -> Role | None:
    """The role a name tells, or None where it tells none.

    Understood, in any case and with a paint's name in front before ` - ` or `: ` followed by:
    `masstone`, `masstone over black|white`, `tint 1:4`, `tint 1:4 by weight`, `tint 20 %`,
    `white`, `card black|white`; `75 um` for a film's thickness; `#2` for a repeat.
    """
    text = plain(name)
    for piece in (text, re.split(r"\s-\s|:\s|,\s|;\s*", text)[-1]):
        role = _role(piece.strip())
        if role is not None:
            return role
    return None


def _role(text: str) -> Role | None:
    by = "weight" if _WEIGHT.search(text) else "volume"
    microns = _MICRONS.search(text)
    thickness = _value(microns.group(1)) if microns else None
    bare = _MICRONS.sub("", text)
    ratio, share = _RATIO.search(bare), _SHARE.search(bare)
    if text in ("white", "white masstone", "white paint", "the white", "white alone"):
        return Role(WHITE)
    if re.fullmatch(r"(card|ground) (over )?(black|white)|(black|white) (card|ground)", text):
        return Role(CARD, ground="black" if "black" in text else "white")
    words = _OVER.sub("", _RATIO.sub("", _SHARE.sub("", _WEIGHT.sub("", bare))))
    words = re.sub(r"\s+", " ", words).strip()
    # Of a masstone, "white" is the card; of a tint without "over", it is the paint.
    match = re.fullmatch(
        r"(masstone|mass tone|full strength|full tone|tint|reduction|letdown|let down)"
        r"(?: (?:in |with )?(opaque|white|black))?",
        words,
    )
    if not match:
        return None
    ground = match.group(2) or "opaque"
    if match.group(1) in ("masstone", "mass tone", "full strength", "full tone"):
        return (
            None if ratio or share else Role(MASSTONE, by=by, ground=ground, thickness_um=thickness)
        )
    if not _OVER.search(text):
        ground = "opaque"
    if ratio:
        parts, white = _value(ratio.group(1)), _value(ratio.group(2))
    elif share:
        parts = _value(share.group(1))
        white = 100.0 - parts
    else:
        return None
    if not (parts > 0.0 and white > 0.0):
        return None
    return Role(TINT, parts, white, by, ground, thickness)


def _value(text: str) -> float:
    return float(text.replace(",", "."))
