"""Whether a doubt is worth a swatch, and which daub of paint would settle it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from tubewise.colour.arrays import Floats
from tubewise.optics.film import BLACK_GROUND
from tubewise.paints.appearance import lab_thin
from tubewise.paints.paint import Paint
from tubewise.paints.setting import Setting

# A cheaper daub is preferred to one that tells this little more.
NEARLY = 0.9
# A daub that explains less of the doubt than this tells nothing.
NOTHING = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Daub:
    """A daub that a person can paint: in words, and what it may show, CIELAB (DRAWS + 1, 3).

    Of two tubes it is painted side by side, and what it shows is their difference.
    """

    words: str
    shows: Floats


def risks(distance: Floats, limit: float) -> tuple[float, float]:
    """What a yes and what a no are expected to miss by, in CIEDE2000, as far as is known.

    `distance` (DRAWS + 1,) is how far two paints may be apart, `limit` the line between yes and no.
    Who says yes loses by how far they lie beyond it, who says no by how far within: what a swatch
    would spare (Raiffa & Schlaifer 1961, from memory).
    """
    beyond = distance[1:] - limit
    return float(np.maximum(beyond, 0.0).mean()), float(np.maximum(-beyond, 0.0).mean())


def daubs(a: Paint, b: Paint, setting: Setting) -> tuple[Daub, ...]:
    """The daubs that cost least, cheapest first: alone, in a tint, thin over black.

    In watercolour a strong and a pale wash. Of both where both are tubes, else of the tube, else of
    `b`.
    """
    both = a.tube is not None and b.tube is not None
    own = a if a.tube is not None and b.tube is None else b
    name = "both" if both else own.name
    tint = setting.ladder(a)[-1]
    share, rest = tint.own, sum(tint.parts)
    other = tint.paints[0].name
    body = setting.lightener.name if setting.in_washes else "white"
    mixture = (
        f"1 part of {name} in {rest:g} of {body}"
        if rest > share
        else f"{share:g} parts of {name} with {rest:g} of {other}"
    )

    def shows(look: Callable[[Paint], Floats]) -> Floats:
        return look(b) - look(a) if both else look(own)

    alone = f"a strong wash of {name}" if setting.in_washes else f"{name} alone, thick"
    cheap = (
        Daub(words=alone, shows=shows(setting.lab_alone)),
        Daub(words=mixture, shows=shows(lambda p: setting.lab_with(p, tint))),
    )
    if setting.in_washes:
        return cheap
    black = Daub(
        words=f"one thin stroke of {name} over black",
        shows=shows(lambda p: lab_thin(p, ground=BLACK_GROUND, surface=setting.surface)),
    )
    return (*cheap, black)


def most_telling(found: Sequence[Daub], distance: Floats) -> str:
    """The daub that would tell most about `distance` (DRAWS + 1,), in words; "" for none.

    The expected drop in its variance once a daub is seen to one CIELAB unit, by linear regression
    over the draws (Gaussian conditioning). A cheaper one that tells nearly as much comes first.
    """
    y = distance[1:] - distance[1:].mean()
    tells = []
    for daub in found:
        X = daub.shows[1:] - daub.shows[1:].mean(axis=0)
        cov = X.T @ y / y.size
        tells.append(float(cov @ np.linalg.solve(X.T @ X / y.size + np.eye(3), cov)))
    most = max(tells, default=0.0)
    if most < NOTHING:
        return ""
    return next(d.words for d, much in zip(found, tells, strict=True) if much >= NEARLY * most)
