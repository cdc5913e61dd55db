"""How many parts of two paints pull alike, and how much white lifts them, as one squeezes them out.

Equal parts of a weak and a strong paint show the strong one; balanced parts show the mixture.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import log

import numpy as np

from tubewise.advice.alike.strength import tinting_strength
from tubewise.colour.arrays import Floats
from tubewise.colour.lab import lab_from_reflectance
from tubewise.paints.appearance import mixed
from tubewise.paints.paint import Paint
from tubewise.paints.setting import Setting

# Parts of the weaker to one of the stronger that an eye still tells apart on a palette. common
# practice, no source.
STEPS = (1, 2, 3, 4, 6, 8, 12)
# Parts of white or water that are squeezed or spooned out. common practice, no source.
LIGHTENERS = (0, 1, 2, 3, 4, 6, 8, 12, 16, 24, 32, 48, 64, 96, 128)

# A measured white may absorb nothing that its instrument sees.
_NOTHING = 1e-6


def balanced_parts(a: Paint, b: Paint) -> tuple[int, int]:
    """Whole parts of `a` and `b` that pull alike: of the stronger 1, of the other one of `STEPS`.

    Balanced by their tinting strength, see there; beyond 1 : 12 it stays 1 : 12.
    """
    far = max(tinting_strength(a), _NOTHING) / max(tinting_strength(b), _NOTHING)
    step = min(STEPS, key=lambda n: abs(log(n) - abs(log(far))))
    return (1, step) if far >= 1.0 else (step, 1)


def lightened_to(
    paints: Sequence[Paint],
    parts: Sequence[int],
    setting: Setting,
    lightness: float,
    least: float = 0.0,
) -> int:
    """The fewest parts of white or water, of `LIGHTENERS`, that lift a mixture to `lightness` L*.

    At least `least` of them; the most there are where none does.
    """
    enough = [n for n in LIGHTENERS if n >= least] or [LIGHTENERS[-1]]
    reached = (n for n in enough if lab_lightened(paints, parts, n, setting)[0] >= lightness)
    return next(reached, enough[-1])


def lab_lightened(
    paints: Iterable[Paint], parts: Sequence[int], white: float, setting: Setting
) -> Floats:
    """CIELAB (3,) of the best estimate of paints in parts, in so many parts of white or water."""
    K, S = mixed([*paints, setting.lightener], [*parts, white])
    return np.asarray(lab_from_reflectance(setting.reads(K[:1], S[:1]))[0])
