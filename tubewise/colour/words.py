"""Colours and their differences in a painter's words."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike

from tubewise.colour.difference import Differences, differences_2000
from tubewise.colour.lab import lch_from_lab

# --- How much is seen -----------------------------------------------------------------------
# Steps after Mokrzycki & Tatol 2011 (from memory): below 1 no observer notices, 1-2 only an
# experienced one, beyond 2 anyone, beyond 5 two colours are met. They speak of CIE 1976
# differences; taking them over to CIEDE2000 is common practice, no source. Every verdict of
# `tubewise.advice` takes its lines from here, so that words and verdict agree.
SAME_BELOW: Final = 1.0
"""CIEDE2000 below which nobody sees a difference."""
SIDE_BY_SIDE_BELOW: Final = 2.0
"""CIEDE2000 below which a difference shows only where both colours touch."""
ANOTHER_FROM: Final = 5.0
"""CIEDE2000 from which two colours are two; below it a lesson's mixture still reads as meant."""

# A part of a difference gets a word when it counts for something by itself and beside the
# largest part, or is seen in any company; "a little" and "much" divide at 3 and at twice what
# makes another colour.
# Common practice, no source.
_MENTION: Final = 0.7
_MENTION_SHARE: Final = 0.35
_MENTION_ALWAYS: Final = 2.0
_A_LITTLE_BELOW: Final = 3.0
_MUCH_FROM: Final = 10.0

NEUTRAL_BELOW: Final = 4.0
"""CIELAB chroma below which a colour is a grey to the painter. Common practice, no source."""

# Turned further than this, one hue is not a redder or yellower other but another hue.
# Common practice, no source.
_ANOTHER_HUE_DEG: Final = 60.0

# For each stretch of the CIELAB hue circle, in degrees up to which it runs: its name, and what a
# colour in it becomes when it turns towards smaller and towards larger angles. The words are the
# neighbours among red, yellow, green and blue as the trade uses them (common practice, no
# source); the stretches follow the Munsell hues 2.5RP 7.5R 5YR 10YR 10Y 7.5GY 10G 7.5BG 10PB 7.5P
# at value 5, so that they hold where CIELAB and the eye part, in the blues.
_TURNS: Final = (
    (5.0, "magenta", "bluer", "redder"),
    (40.0, "red", "bluer", "yellower"),
    (70.0, "orange", "redder", "yellower"),
    (104.0, "yellow", "redder", "greener"),
    (130.0, "yellow-green", "yellower", "greener"),
    (184.0, "green", "yellower", "bluer"),
    (216.0, "blue-green", "greener", "bluer"),
    (300.0, "blue", "greener", "redder"),
    (335.0, "violet", "bluer", "redder"),
    (360.0, "magenta", "bluer", "redder"),
)
# What a grey becomes when it takes on the colour of a stretch.
_CASTS: Final = {
    "magenta": "more magenta",
    "red": "redder",
    "orange": "more orange",
    "yellow": "yellower",
    "yellow-green": "more yellow-green",
    "green": "greener",
    "blue-green": "more blue-green",
    "blue": "bluer",
    "violet": "more violet",
}
# Warm greys lean to orange, cool ones away from it (common practice, no source).
_WARM_HUE_DEG: Final = 60.0
_WARM_WITHIN_DEG: Final = 75.0


def describe(lab_from: ArrayLike, lab_to: ArrayLike, subject: str = "") -> str:
    """How the second colour differs from the first, and whether one would see it.

    Both are CIELAB D65/2, shape (3,). Gives such as `a little redder and duller; you would see
    it`, largest part first, or `the same to the eye`; with a `subject`, the second colour's name,
    `PR209 is a little redder`. Said of the first colour beside the second, every direction is
    turned round. Two greys get no hue words.
    """
    parts = differences_2000(lab_from, lab_to)
    words = _directions(lab_from, lab_to, parts)
    seen = seen_words(float(parts.whole))
    if words and subject:
        words = f"{subject} is {words}"
    return f"{words}; {seen}" if words else seen


def seen_words(delta_e00: float) -> str:
    """Whether a painter would see a CIEDE2000 difference, in words."""
    if delta_e00 < SAME_BELOW:
        return "the same to the eye"
    if delta_e00 < SIDE_BY_SIDE_BELOW:
        return "you would see it only side by side"
    if delta_e00 < ANOTHER_FROM:
        return "you would see it"
    return "another colour"


def difference_words(lab_from: ArrayLike, lab_to: ArrayLike) -> str:
    """How the second colour differs from the first, such as `redder, a little lighter and duller`.

    Both are CIELAB D65/2, shape (3,). Empty where nobody would see a difference.
    """
    return _directions(lab_from, lab_to, differences_2000(lab_from, lab_to))


def _directions(lab_from: ArrayLike, lab_to: ArrayLike, parts: Differences) -> str:
    if float(parts.whole) < SAME_BELOW:
        return ""
    lightness, chroma, hue = float(parts.lightness), float(parts.chroma), float(parts.hue)
    start, end = lch_from_lab(lab_from).tolist(), lch_from_lab(lab_to).tolist()
    changes = [(abs(lightness), "lighter" if lightness > 0.0 else "darker")]
    if start[1] < NEUTRAL_BELOW and end[1] < NEUTRAL_BELOW:
        changes.append((float(np.hypot(chroma, hue)), _grey_turn(lab_from, lab_to)))
    elif start[1] < NEUTRAL_BELOW:
        changes.append((abs(chroma), _CASTS[hue_family(end[2])]))
    elif end[1] < NEUTRAL_BELOW:
        changes.append((abs(chroma), "greyer"))
    else:
        changes.append((abs(chroma), "cleaner" if chroma > 0.0 else "duller"))
        changes.append((abs(hue), _hue_turn(start[2], end[2])))
    return _in_a_row(changes)


def hue_family(hue_deg: float) -> str:
    """Plain name of a CIELAB hue angle in degrees: red, orange, yellow ... magenta."""
    return _stretch(hue_deg)[1]


def _stretch(hue_deg: float) -> tuple[float, str, str, str]:
    return next(turn for turn in _TURNS if hue_deg % 360.0 < turn[0])


def _hue_turn(start_deg: float, end_deg: float) -> str:
    turn = (end_deg - start_deg + 180.0) % 360.0 - 180.0
    family, other = hue_family(start_deg), hue_family(end_deg)
    if abs(turn) > _ANOTHER_HUE_DEG and other != family:
        return f"{other} instead of {family}"
    low, high = (start_deg, end_deg) if turn > 0.0 else (end_deg, start_deg)
    larger, smaller = _stretch(low)[3], _stretch(high)[2]
    if larger == smaller:
        # From orange to yellow-green, both would be the yellower: the hue between them decides.
        _, _, smaller, larger = _stretch(start_deg + 0.5 * turn)
    return larger if turn > 0.0 else smaller


def _grey_turn(lab_from: ArrayLike, lab_to: ArrayLike) -> str:
    shift = np.subtract(lab_to, lab_from)
    towards = float(np.degrees(np.arctan2(shift[2], shift[1]))) - _WARM_HUE_DEG
    off = abs((towards + 180.0) % 360.0 - 180.0)
    if off <= _WARM_WITHIN_DEG:
        return "warmer"
    return "cooler" if off >= 180.0 - _WARM_WITHIN_DEG else "of another cast"


def _in_a_row(changes: list[tuple[float, str]]) -> str:
    largest = max(size for size, _ in changes)
    least = min(max(_MENTION, _MENTION_SHARE * largest), _MENTION_ALWAYS, largest)
    groups: dict[str, list[str]] = {}
    for size, word in sorted(changes, key=lambda part: -part[0]):
        if size >= least:
            groups.setdefault(_degree(size, word), []).append(word)
    phrases = [degree + _listed(words) for degree, words in groups.items()]
    plain = all(len(words) == 1 for words in groups.values())
    return " and ".join(phrases) if plain and len(phrases) == 2 else ", ".join(phrases)


def _degree(size: float, word: str) -> str:
    if " instead of " in word:
        return ""
    if size < _A_LITTLE_BELOW:
        return "a little "
    # "Much" before "more orange" and the like is still good English.
    return "much " if size >= _MUCH_FROM and word != "of another cast" else ""


def _listed(words: list[str]) -> str:
    return " and ".join((", ".join(words[:-1]), words[-1])) if len(words) > 1 else words[0]


# --- What a colour is called ----------------------------------------------------------------
# Trade names for stretches of CIELAB hue, up to the angle given; as above they follow the Munsell
# hues (5R "red", 10R "orange-red", 5YR "orange" ...). Common practice, no source.
_HUE_NAMES: Final = (
    (17.0, "bluish red"),
    (33.0, "red"),
    (47.0, "orange-red"),
    (66.0, "orange"),
    (80.0, "yellow-orange"),
    (87.0, "reddish yellow"),
    (95.0, "yellow"),
    (104.0, "greenish yellow"),
    (128.0, "yellow-green"),
    (148.0, "yellowish green"),
    (172.0, "green"),
    (184.0, "bluish green"),
    (218.0, "blue-green"),
    (245.0, "greenish blue"),
    (283.0, "blue"),
    (302.0, "reddish blue"),
    (322.0, "violet"),
    (340.0, "reddish violet"),
    (358.0, "magenta"),
    (360.0, "bluish red"),
)
_GREY_CASTS: Final = {
    "magenta": "purplish",
    "red": "reddish",
    "orange": "warm",
    "yellow": "yellowish",
    "yellow-green": "greenish",
    "green": "greenish",
    "blue-green": "greenish",
    "blue": "bluish",
    "violet": "violet",
}
# Lightness and chroma of clean strong paints around the hue circle: where "deep" and "pale", "dull"
# and "bright" divide. Common practice, no source.
_CLEAN_HUE: Final = (0.0, 40.0, 90.0, 130.0, 165.0, 230.0, 290.0, 330.0, 360.0)
_CLEAN_LIGHTNESS: Final = (44.0, 52.0, 84.0, 66.0, 50.0, 45.0, 36.0, 38.0, 44.0)
_CLEAN_CHROMA: Final = (56.0, 72.0, 88.0, 66.0, 54.0, 44.0, 52.0, 48.0, 56.0)
_GREY_BELOW: Final = 9.0
_NEAR_BLACK_BELOW: Final = 28.0


def hue_name(lab: ArrayLike) -> str:
    """Plain name of a CIELAB colour D65/2, shape (3,), in words of the trade.

    Such as `deep bluish red`, `pale yellow-green`, `near-black`, `brown`, `warm grey`. The limits
    are common practice, no source.
    """
    lightness, chroma, hue = lch_from_lab(lab).tolist()
    if chroma < NEUTRAL_BELOW:
        return _grey(lightness)
    if chroma < _GREY_BELOW or (lightness < 20.0 and chroma < 12.0):
        cast = _GREY_CASTS[hue_family(hue)]
        return f"{cast} {'white' if lightness >= 90.0 else _grey(lightness)}"
    return _own_name(lightness, chroma, hue) or _chromatic(lightness, chroma, hue)


def _grey(lightness: float) -> str:
    for limit, name in (
        (_NEAR_BLACK_BELOW, "near-black"),
        (45.0, "dark grey"),
        (65.0, "grey"),
        (92.0, "light grey"),
    ):
        if lightness < limit:
            return name
    return "white"


def _own_name(lightness: float, chroma: float, hue: float) -> str:
    """The names that reds, oranges and yellows take when dark, greyed or pale; else empty."""
    if 30.0 <= hue < 47.0 and lightness < 48.0 and chroma < 45.0:
        return "red-brown" if lightness >= 32.0 or chroma >= 20.0 else "dark brown"
    if 47.0 <= hue < 70.0 and lightness < 56.0 and chroma < 50.0:
        return "brown" if lightness >= 32.0 else "dark brown"
    if 70.0 <= hue < 87.0 and lightness < 66.0 and chroma < 56.0:
        return "yellow-brown" if lightness >= 40.0 else "dark brown"
    if 87.0 <= hue < 115.0 and lightness < 62.0 and chroma < 50.0:
        return "olive" if lightness >= 32.0 else "dark olive"
    if (hue < 33.0 or hue >= 340.0) and lightness >= 65.0 and chroma < 45.0:
        return ("pale " if lightness >= 82.0 else "") + (
            "bluish pink" if hue >= 340.0 or hue < 12.0 else "pink"
        )
    if 33.0 <= hue < 50.0 and lightness >= 65.0 and chroma < 45.0:
        return ("pale " if lightness >= 82.0 else "") + "yellowish pink"
    return ""


def _chromatic(lightness: float, chroma: float, hue: float) -> str:
    name = next(name for limit, name in _HUE_NAMES if hue < limit)
    # Clean yellows are light and clean blues dark, so "deep" and "pale" move with the hue.
    clean = float(np.interp(hue, _CLEAN_HUE, _CLEAN_LIGHTNESS))
    if clean - 10.0 > lightness:
        depth = "deep "
    elif min(clean + 22.0, 87.0) < lightness and chroma < 45.0:
        depth = "pale "
    elif clean + 12.0 < lightness and chroma < 45.0:
        depth = "light "
    else:
        depth = ""
    most = float(np.interp(hue, _CLEAN_HUE, _CLEAN_CHROMA))
    dull = "dull " if chroma < 0.4 * most and not depth else ""
    bright = "bright " if chroma > most and not depth else ""
    return depth + dull + bright + name
