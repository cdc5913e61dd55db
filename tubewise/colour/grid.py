"""The one wavelength grid on which every spectrum in this package stands."""

from __future__ import annotations

from typing import Final

import numpy as np

from tubewise.colour.arrays import Floats

N_BANDS: Final = 36

WAVELENGTHS_NM: Final[Floats] = np.arange(380.0, 731.0, 10.0)
"""Band centres, shape (36,), nanometres: 380, 390 ... 730. Read-only."""

WAVELENGTHS_NM.flags.writeable = False
