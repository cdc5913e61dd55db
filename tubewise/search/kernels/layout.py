"""What kernels take: arrays and numbers that belong together, by name."""

from __future__ import annotations

from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from tubewise.colour.arrays import Floats

Indices = NDArray[np.int64]

# The bands of `tubewise.colour.grid`, as a number the compiler knows.
BANDS: Final = 36


class Paints(NamedTuple):
    """`K`, `S` (n, 36) by volume; `unit` (n,): the volume of one unit of strength."""

    K: Floats
    S: Floats
    unit: Floats


class Film(NamedTuple):
    """The film a mixture is seen as, and its surface (Saunderson 1942).

    `k2`; `gain` = (1 - k1)(1 - k2); `base`: k1 when the mirror reflection is included, else 0;
    `thickness` X, 0 for an opaque film; `ground` (36,): the internal reflectance below it.
    """

    k2: float
    gain: float
    base: float
    thickness: float
    ground: Floats


class Aim(NamedTuple):
    """What is to be met, and how it is seen.

    `W` (illuminants, 3, 36): ASTM E308 weights over the white; `lab` (illuminants, 3): the colour
    wanted. `goal` (36,): NaN in its first band means CIEDE2000, the worst of the illuminants;
    else it is the reflectance wanted, and 100 times the root-mean-square difference counts.
    """

    W: Floats
    lab: Floats
    goal: Floats
