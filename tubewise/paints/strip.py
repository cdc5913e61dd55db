"""The drawdown strip of a paint: alone, thinning over a card, then its tints in white.

In watercolour it is the wash from strong to pale on paper, then washes in more and more water.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.colour.gamut import path_into_srgb
from tubewise.colour.hexes import hex_from_lab, hexes_from_lab
from tubewise.colour.lab import lab_from_reflectance
from tubewise.optics.film import BLACK_GROUND, DRAWDOWN_FILM, WHITE_GROUND, film_reflectance
from tubewise.optics.surface import GLOSS, Surface, measured_from_internal
from tubewise.paints.appearance import Company
from tubewise.paints.paint import Paint
from tubewise.paints.setting import Setting
from tubewise.paints.wash import wash

# From three drawdowns, so thick that the wash meets the paint alone without a seam, down to a film
# that hardly covers; even steps of the eye, not of thickness.
THICKNESSES = DRAWDOWN_FILM * np.geomspace(3.0, 0.002, 57)
# Of these every fourth is drawn; between them a screen or a printer fades evenly.
DRAWN = slice(None, None, 4)
# Over so many steps the wash gives way where a screen can't show its chroma.
REACH = 5
TINT_PARTS = (1.0, 3.0, 10.0, 30.0)
# Parts of water to one of paint: from none to a breath of colour, in even steps of the eye.
WATERS = np.geomspace(1.0, 80.0, 49) - 1.0
WATER_PARTS = (3.0, 6.0, 20.0, 40.0)
# Of the wash's height, the part in the middle that lies over the card's black band.
BLACK_BAND = 0.2


@dataclass(frozen=True, slots=True, kw_only=True)
class StripKey:
    """What the places of a strip are called, and its colour's name: `named` is what that is of."""

    alone: str
    thick: str
    thin: str
    tints: tuple[str, ...]
    named: str
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """The screen colours of a drawdown strip.

    These are `masstone`, the wash `over_white` and `over_black` from thick to thin, and `tints`
    1:1 to 1:30. In watercolour they are paint without water, the wash on paper, and washes of 1:3
    to 1:40; nothing lies below but paper, and `over_black` is empty.
    """

    masstone: str
    over_white: tuple[str, ...]
    over_black: tuple[str, ...]
    tints: tuple[str, ...]

    @property
    def key(self) -> StripKey:
        """What its places are called."""
        return FILM_KEY if self.over_black else WASH_KEY


FILM_KEY = StripKey(
    alone="alone",
    thick="thick film",
    thin="thin",
    tints=tuple(f"1:{n:g}" for n in TINT_PARTS),
    named="alone",
    words="alone, then thick to thin over white and a black band, then tints in white",
)
WASH_KEY = StripKey(
    alone="neat",
    thick="strong",
    thin="pale",
    tints=tuple(f"1:{n:g}" for n in WATER_PARTS),
    named="in a strong wash",
    words="neat, then a wash from strong to pale on paper, then washes in more water",
)


def key_of(strips: Iterable[Strip | None]) -> StripKey:
    """The key over several strips: that of the first, films where there is none."""
    return next((drawn.key for drawn in strips if drawn is not None), FILM_KEY)


def strip(paint: Paint, setting: Setting) -> Strip:
    """The strip of a paint's best estimate, as paint of its medium is laid."""
    if setting.judging(paint).in_washes:
        return _in_washes(paint)
    white = setting.lightener
    tints = [setting.lab_with(paint, Company("", (white,), (n,), 1.0))[0] for n in TINT_PARTS]
    over_white, over_black = (
        tuple(hexes_from_lab(wash_labs(paint.K[0], paint.S[0], ground, setting.surface)[DRAWN]))
        for ground in (WHITE_GROUND, BLACK_GROUND)
    )
    return Strip(
        masstone=hex_from_lab(setting.lab_alone(paint)[0]),
        over_white=over_white,
        over_black=over_black,
        tints=tuple(hexes_from_lab(np.stack(tints))),
    )


def _in_washes(paint: Paint) -> Strip:
    """From paint that is brushed out without water to the faintest wash."""
    K, S = paint.K[0], paint.S[0]
    films = lab_from_reflectance(wash(K, S, WATERS))
    steps = [hex_from_lab(lab) for lab in lab_from_reflectance(wash(K, S, np.array(WATER_PARTS)))]
    drawn = tuple(hexes_from_lab(path_into_srgb(films, REACH)[DRAWN]))
    return Strip(
        # As the wash begins, so that the two meet without a seam.
        masstone=drawn[0],
        over_white=drawn,
        over_black=(),
        tints=tuple(steps),
    )


def wash_labs(K: Floats, S: Floats, ground: float, surface: Surface = GLOSS) -> Floats:
    """A film of K, S (36,) that thins over a ground, as a screen shows it: CIELAB (57, 3)."""
    R = film_reflectance(K, S, THICKNESSES[:, None], ground)
    return path_into_srgb(lab_from_reflectance(measured_from_internal(R, surface)), REACH)
